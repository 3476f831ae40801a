using BackHistory.Shape.Contours;
using BackHistory.Shape.Errors;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Measures;

/// <summary>
/// The measures of a topline: the table, then one definition each. A mark stands for the point of the smoothed topline at its u, and its u
/// is taken as exact.
/// </summary>
internal sealed class ToplineMeasures
{
    private static readonly (string Key, string Unit, Func<ToplineMeasures, Estimate> Define)[] Table =
    [
        ("topline-drop", "mm", m => m.Drop().Depth),
        ("topline-drop-place", "1", m => m.Drop().Place),
        ("panel-radius", "mm", m => m.PanelRadius()),
        ("bearing-length", "mm", m => m.BearingLength()),
    ];

    internal static IEnumerable<MeasureDefinition> Definitions => Table.Select(t => new MeasureDefinition(t.Key, t.Unit, AtStation: false));

    private readonly Topline line;
    private readonly Sensitivity errors;

    private ToplineMeasures(Contour contour, Sensitivity errors) => (line, this.errors) = (new Topline(contour), errors);

    internal static List<Measure> Measure(Contour contour, Sensitivity errors)
    {
        var topline = new ToplineMeasures(contour, errors);
        var measures = topline.Slopes(contour.Marks).ToList();
        foreach (var (key, unit, define) in Table)
            measures.Add(define(topline).Named(key, unit, errors));
        return measures;
    }

    /// <summary>Inclination, degrees, of the chord between every two marks, positive = rising towards the tail.</summary>
    private IEnumerable<Measure> Slopes(IReadOnlyDictionary<string, Point> marks)
    {
        var inOrder = marks.OrderBy(m => m.Value.X).ThenBy(m => m.Key, StringComparer.Ordinal).Select(m => m.Key).ToArray();
        for (var a = 0; a < inOrder.Length; a++)
        for (var b = a + 1; b < inOrder.Length; b++)
            yield return ChordSlope(inOrder[a], inOrder[b]).Named($"topline-slope@{inOrder[a]}-{inOrder[b]}", "deg", errors);
    }

    private Estimate ChordSlope(string ahead, string behind)
    {
        if (line.At(ahead) is not { } a || line.At(behind) is not { } b)
            return Estimate.NotCovered;
        const double degrees = 180 / Math.PI;
        var chord = b.At - a.At;
        var gradient = errors.Empty();
        var perMillimetre = degrees * chord.X / chord.Dot(chord);
        AddHeight(gradient, b, perMillimetre);
        AddHeight(gradient, a, -perMillimetre);
        return new(Math.Atan2(chord.Y, chord.X) * degrees, gradient);
    }

    /// <summary>What moving the curve does to the height of its point at a fixed u.</summary>
    private void AddHeight(Gradient? gradient, Topline.Place place, double weight)
    {
        var velocity = line.Curve.Velocity(place.Parameter);
        gradient?.AddPoint(place.Parameter, new Point(-weight * velocity.Y / velocity.X, weight));
    }

    /// <summary>
    /// Greatest vertical distance, mm, of the topline below the straight line from the withers point (the mark `withers`, else the highest
    /// point ahead of `mid-back`) to the last rib; 0 when it is never below. Place: from 0 at the withers point to 1 at the last rib,
    /// horizontally.
    /// </summary>
    private (Estimate Depth, Estimate Place) Drop()
    {
        if (Withers(out var isTop) is not { } from)
        {
            var why =
                line.IsMarked(StationMarks.Withers) || line.IsMarked(StationMarks.MidBack)
                    ? Estimate.NotCovered
                    : Estimate.Missing("not covered: neither 'withers' nor 'mid-back' is marked");
            return (why, why);
        }
        if (line.At(StationMarks.LastRib) is not { } to || from.At.X >= to.At.X || !line.Covers(from, to))
            return (Estimate.NotCovered, Estimate.NotCovered);
        if (line.DeepestBelowChord(from, to) is not { } deepest)
            return (0, Estimate.Missing("never below"));
        var (slope, span) = ((to.At.Y - from.At.Y) / (to.At.X - from.At.X), to.At.X - from.At.X);
        var place = (deepest.At.X - from.At.X) / span;
        var depth = from.At.Y + slope * (deepest.At.X - from.At.X) - deepest.At.Y;
        return (
            new(depth, DepthGradient(from, isTop, deepest, to, slope, place)),
            new(place, PlaceGradient(from, isTop, deepest, to, slope, span, place))
        );
    }

    private Topline.Place? Withers(out bool isTop)
    {
        isTop = false;
        if (line.IsMarked(StationMarks.Withers))
            return line.At(StationMarks.Withers);
        if (line.At(StationMarks.MidBack) is not { } limit || !line.Covers(line.Curve.Start, limit.Parameter))
            return null;
        var highest = line.HighestAhead(limit);
        isTop = highest.Parameter > line.Curve.Start && highest.Parameter < limit.Parameter;
        return highest;
    }

    private Gradient? DepthGradient(Topline.Place from, bool isTop, Topline.Place deepest, Topline.Place to, double slope, double place)
    {
        if (errors.Empty() is not { } gradient)
            return null;
        AddHeight(gradient, from, 1 - place);
        AddHeight(gradient, to, place);
        gradient.AddPoint(deepest.Parameter, new Point(slope, -1));
        if (isTop)
            AddTurningPlace(gradient, from, 0, -slope * (1 - place));
        return gradient;
    }

    private Gradient? PlaceGradient(
        Topline.Place from,
        bool isTop,
        Topline.Place deepest,
        Topline.Place to,
        double slope,
        double span,
        double place
    )
    {
        if (errors.Empty() is not { } gradient)
            return null;
        AddTurningPlace(gradient, deepest, slope, 1 / span);
        // The chord turns when its ends rise or fall, and the deepest place wanders with it.
        var (velocity, acceleration) = (line.Curve.Velocity(deepest.Parameter), line.Curve.Acceleration(deepest.Parameter));
        var byTurn = velocity.X * velocity.X / (acceleration.Y - slope * acceleration.X) / span;
        AddHeight(gradient, to, byTurn / span);
        AddHeight(gradient, from, -byTurn / span);
        if (isTop)
            AddTurningPlace(gradient, from, 0, -(1 - place) / span);
        return gradient;
    }

    /// <summary>What moving the curve does to the u of the point where it runs parallel to a slope.</summary>
    private void AddTurningPlace(Gradient gradient, Topline.Place at, double slope, double weight)
    {
        var (velocity, acceleration) = (line.Curve.Velocity(at.Parameter), line.Curve.Acceleration(at.Parameter));
        var shift = -weight * velocity.X / (acceleration.Y - slope * acceleration.X);
        gradient.AddPoint(at.Parameter, new Point(weight, 0));
        gradient.AddVelocity(at.Parameter, new Point(-slope * shift, shift));
    }

    /// <summary>
    /// Radius, mm, of the circle fitted between `behind-shoulder` and `last-rib`; positive = hollow back, negative = roached.
    /// </summary>
    private Estimate PanelRadius()
    {
        if (line.SampleBetween(StationMarks.BehindShoulder, StationMarks.LastRib, 120) is not { } samples)
            return Estimate.NotCovered;
        var points = samples.Between(0, samples.Count - 1);
        var circle = CircleFit.ThroughUniform(points);
        if (circle.SignedRadius(positiveBelow: false) is not { } radius)
            return Estimate.Missing("straight");
        if (errors.Empty() is not { } gradient)
            return radius;
        Span<Point> changes = stackalloc Point[points.Length];
        circle.RadiusChanges(points, radius, changes);
        samples.PullAcross(gradient, changes);
        return new(radius, gradient);
    }

    /// <summary>Arc length, mm, of the topline from `behind-shoulder` to `last-rib`.</summary>
    private Estimate BearingLength()
    {
        if (line.At(StationMarks.BehindShoulder) is not { } from || line.At(StationMarks.LastRib) is not { } to || !line.Covers(from, to))
            return Estimate.NotCovered;
        var gradient = errors.Empty();
        if (gradient is not null && line.SampleBetween(StationMarks.BehindShoulder, StationMarks.LastRib, 120) is { } samples)
        {
            // Only moves of the ends along the curve, and moves across it where it bends, change its length.
            samples.PullLength(gradient);
            AddHeight(gradient, to, line.Curve.Tangent(to.Parameter).Y);
            AddHeight(gradient, from, -line.Curve.Tangent(from.Parameter).Y);
        }
        return new(line.ArcBetween(from, to), gradient);
    }
}
