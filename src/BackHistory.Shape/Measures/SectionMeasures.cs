using BackHistory.Shape.Contours;
using BackHistory.Shape.Errors;

namespace BackHistory.Shape.Measures;

/// <summary>
/// The measures of a cross-section: the table, then one definition each. Depths and arcs count from M, downwards and outwards.
/// A new measure is one line of the table and, where it is no combination of others, one function.
/// </summary>
internal sealed class SectionMeasures
{
    private static readonly (string Key, string Unit, Func<SectionMeasures, Estimate> Define)[] Table =
    [
        ("width@30", "mm", s => s.Width(30)),
        ("width@60", "mm", s => s.Width(60)),
        ("width@100", "mm", s => s.Width(100)),
        ("width@150", "mm", s => s.Width(150)),
        ("width-ratio", "1", s => s["width@30"] / s["width@150"]),
        ("slope-left", "deg", s => Slope(s.left)),
        ("slope-right", "deg", s => Slope(s.right)),
        ("opening", "deg", s => 180 - s["slope-left"] - s["slope-right"]),
        ("half-area-left", "cm2", s => HalfArea(s.left, 150)),
        ("half-area-right", "cm2", s => HalfArea(s.right, 150)),
        ("half-area-left@100", "cm2", s => HalfArea(s.left, 100)),
        ("half-area-right@100", "cm2", s => HalfArea(s.right, 100)),
        ("half-area-left@150", "cm2", s => HalfArea(s.left, 150)),
        ("half-area-right@150", "cm2", s => HalfArea(s.right, 150)),
        ("fill-left", "cm2", s => Fill(s.left)),
        ("fill-right", "cm2", s => Fill(s.right)),
        ("skew-area@100", "%", s => Skew(s["half-area-left@100"], s["half-area-right@100"])),
        ("skew-area@150", "%", s => Skew(s["half-area-left@150"], s["half-area-right@150"])),
        ("skew-slope", "deg", s => s["slope-right"] - s["slope-left"]),
        ("skew-shape", "mm", s => s.SkewShape()),
        ("ridge-radius", "mm", s => s.RidgeRadius().Widened(RidgeSelection)),
    ];

    internal static IEnumerable<MeasureDefinition> Definitions => Table.Select(t => new MeasureDefinition(t.Key, t.Unit, AtStation: true));

    private const double SquareMillimetresPerCm2 = 100;

    /// <summary>
    /// The penalty eased where the points happened to bend most: the radius scatters this much more than with a given penalty (simulated).
    /// </summary>
    private const double RidgeSelection = 1.1;

    private readonly MeasuredArm left,
        right;
    private readonly Dictionary<string, Estimate> known = new(Table.Length, StringComparer.Ordinal);

    private SectionMeasures(Contour contour, Sensitivity errors) =>
        (left, right) = (new MeasuredArm(contour.Left!, errors), new MeasuredArm(contour.Right!, errors));

    private Estimate this[string key] => known[key];

    internal static List<Measure> Measure(Contour contour, Sensitivity errors)
    {
        var section = new SectionMeasures(contour, errors);
        foreach (var (key, _, define) in Table)
            section.known[key] = define(section);
        var measures = new List<Measure>(Table.Length + 2 * contour.Marks.Count);
        foreach (var (key, unit, _) in Table)
            measures.Add(section[key].Named(key, unit, errors));
        measures.AddRange(SectionMarks.MeasureMarks(contour, section.left, errors));
        return measures;
    }

    /// <summary>Distance between the outermost crossings of the two arms at a depth.</summary>
    private Estimate Width(double depth) => left.Reach(depth) + right.Reach(depth);

    /// <summary>
    /// Inclination below horizontal, degrees, of the total-least-squares line through the contour between arcs 40 and 140 mm, uniform
    /// in arc length, directed outwards: what an inclinometer laid on that side reads.
    /// </summary>
    private static Estimate Slope(MeasuredArm arm)
    {
        const double from = 40,
            to = 140,
            degrees = 180 / Math.PI;
        if (arm.Samples(from, to) is not { IsEmpty: false } points)
            return Estimate.NotCovered;
        var line = Line.ThroughUniform(points);
        Span<Point> changes = stackalloc Point[points.Length];
        line.AngleChanges(points, -arm.Outwards * degrees, changes);
        return new(Math.Atan2(-line.Along.Y, arm.Outwards * line.Along.X) * degrees, arm.Pull(changes, from));
    }

    /// <summary>Signed area, cm², of M → along the contour → the crossing at a depth → (0, −depth) → M.</summary>
    private static Estimate HalfArea(MeasuredArm arm, double depth) => arm.AreaAbove(depth) / SquareMillimetresPerCm2;

    /// <summary>Signed area, cm², between the contour and the chord from M to arc 150 mm; negative = hollow.</summary>
    private static Estimate Fill(MeasuredArm arm) => arm.AreaOverChord(150) / SquareMillimetresPerCm2;

    /// <summary>Difference of right and left in per cent of their mean.</summary>
    private static Estimate Skew(Estimate left, Estimate right) => 200 * (right - left) / (right + left);

    /// <summary>Root mean square distance, mm, over arcs 0 to 150 mm between the right side and the mirrored left side.</summary>
    private Estimate SkewShape()
    {
        if (left.Samples(0, 150) is not { IsEmpty: false } l || right.Samples(0, 150) is not { IsEmpty: false } r)
            return Estimate.NotCovered;
        Span<Point> onLeft = stackalloc Point[l.Length],
            onRight = stackalloc Point[l.Length];
        double square = 0;
        for (var k = 0; k < l.Length; k++)
        {
            var (w, off) = (Simpson.Weight(k, l.Length), r[k] - new Point(-l[k].X, l[k].Y));
            square += w * off.Dot(off);
            (onRight[k], onLeft[k]) = (w * off, w * new Point(off.X, -off.Y));
        }
        var shape = Math.Sqrt(square);
        if (shape == 0)
            return 0;
        var (byLeft, byRight) = (left.Pull(onLeft, 0), right.Pull(onRight, 0));
        return new(shape, Gradient.Combine(1 / shape, byLeft, 1 / shape, byRight));
    }

    /// <summary>
    /// Radius, mm, of the circle fitted to the contour within 40 mm of arc either side of M; negative where its centre lies above.
    /// </summary>
    private Estimate RidgeRadius()
    {
        if (left.Samples(0, 40) is not { IsEmpty: false } l || right.Samples(0, 40) is not { IsEmpty: false } r)
            return Estimate.NotCovered;
        Span<Point> across = stackalloc Point[l.Length + r.Length - 1],
            changes = stackalloc Point[across.Length];
        for (var k = 0; k < l.Length; k++)
            across[k] = l[l.Length - 1 - k];
        r[1..].CopyTo(across[l.Length..]);
        var circle = CircleFit.ThroughUniform(across);
        if (circle.SignedRadius(positiveBelow: true) is not { } radius)
            return Estimate.Missing("straight");
        circle.RadiusChanges(across, radius, changes);
        Span<Point> onLeft = stackalloc Point[l.Length];
        for (var k = 1; k < l.Length; k++)
            onLeft[k] = changes[l.Length - 1 - k];
        // M itself never moves in its own frame, so the sample that both arms share has no part.
        changes[l.Length - 1] = default;
        return new(radius, Gradient.Combine(1, left.Pull(onLeft, 0), 1, right.Pull(changes[(l.Length - 1)..], 0)));
    }
}
