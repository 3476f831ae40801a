namespace BackHistory.Shape;

/// <summary>
/// The measures of a topline: the table, then one definition each. A mark stands for the point of the smoothed topline at its u.
/// </summary>
internal sealed class ToplineMeasures
{
    private readonly Topline line;

    private ToplineMeasures(Contour contour) => line = new Topline(contour);

    private static readonly (string Key, string Unit, Func<ToplineMeasures, Estimate> Define)[] Table =
    [
        ("topline-drop", "mm", m => m.Drop().Depth),
        ("topline-drop-place", "1", m => m.Drop().Place),
        ("panel-radius", "mm", m => m.PanelRadius()),
        ("bearing-length", "mm", m => m.BearingLength()),
    ];

    internal static List<Measure> Of(Contour contour)
    {
        var topline = new ToplineMeasures(contour);
        var measures = topline.Slopes(contour.Marks).ToList();
        foreach (var (key, unit, define) in Table) measures.Add(define(topline).Named(key, unit));
        return measures;
    }

    /// <summary>Inclination, degrees, of the chord between every two marks, positive = rising towards the tail.</summary>
    private IEnumerable<Measure> Slopes(IReadOnlyDictionary<string, Point> marks)
    {
        var inOrder = marks.OrderBy(m => m.Value.X).ThenBy(m => m.Key, StringComparer.Ordinal).Select(m => m.Key).ToArray();
        for (var a = 0; a < inOrder.Length; a++)
            for (var b = a + 1; b < inOrder.Length; b++)
                yield return ChordSlope(inOrder[a], inOrder[b]).Named($"topline-slope@{inOrder[a]}-{inOrder[b]}", "deg");
    }

    private Estimate ChordSlope(string ahead, string behind)
    {
        if (line.At(ahead) is not { } a || line.At(behind) is not { } b) return Estimate.NotCovered;
        var chord = b.At - a.At;
        return Math.Atan2(chord.Y, chord.X) * (180 / Math.PI);
    }

    /// <summary>
    /// Greatest vertical distance, mm, of the topline below the straight line from the withers point to the last rib; 0 when it is never below.
    /// The place runs from 0 at the withers point to 1 at the last rib, horizontally.
    /// </summary>
    private (Estimate Depth, Estimate Place) Drop()
    {
        var (withers, why) = line.Withers();
        if (withers is not { } from) return (why, why);
        if (line.At(StationMarks.LastRib) is not { } to || from.At.X >= to.At.X || !line.Covers(from, to)) return (Estimate.NotCovered, Estimate.NotCovered);
        var (depth, at) = line.DeepestBelowChord(from, to);
        return depth > 0 ? (depth, (at.X - from.At.X) / (to.At.X - from.At.X)) : (0, Estimate.Missing("never below"));
    }

    /// <summary>Radius, mm, of the circle fitted between `behind-shoulder` and `last-rib`; positive = hollow back, negative = roached.</summary>
    private Estimate PanelRadius() =>
        line.SampleBetween(StationMarks.BehindShoulder, StationMarks.LastRib, 200) is { } points
            ? CircleFit.ThroughUniform(points).SignedRadius(positiveBelow: false) : Estimate.NotCovered;

    /// <summary>Arc length, mm, of the topline from `behind-shoulder` to `last-rib`.</summary>
    private Estimate BearingLength() =>
        line.At(StationMarks.BehindShoulder) is { } from && line.At(StationMarks.LastRib) is { } to && line.Covers(from, to)
            ? line.ArcBetween(from, to) : Estimate.NotCovered;
}
