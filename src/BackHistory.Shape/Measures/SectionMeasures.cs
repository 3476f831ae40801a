namespace BackHistory.Shape;

/// <summary>
/// The measures of a cross-section: the table, then one definition each. Depths and arcs count from M, downwards and outwards.
/// A new measure is one line of the table and, where it is no combination of others, one function.
/// </summary>
internal sealed class SectionMeasures
{
    private readonly Dictionary<string, Estimate> known = new(StringComparer.Ordinal);
    private readonly Arm left, right;

    private SectionMeasures(Contour contour) => (left, right) = (contour.Left!, contour.Right!);

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
        ("half-area-left@150", "cm2", s => s["half-area-left"]),
        ("half-area-right@150", "cm2", s => s["half-area-right"]),
        ("fill-left", "cm2", s => Fill(s.left)),
        ("fill-right", "cm2", s => Fill(s.right)),
        ("skew-area@100", "%", s => Skew(s["half-area-left@100"], s["half-area-right@100"])),
        ("skew-area@150", "%", s => Skew(s["half-area-left@150"], s["half-area-right@150"])),
        ("skew-slope", "deg", s => s["slope-right"] - s["slope-left"]),
        ("skew-shape", "mm", s => s.SkewShape()),
        ("ridge-radius", "mm", s => s.RidgeRadius()),
    ];

    private Estimate this[string key] => known[key];

    internal static List<Measure> Of(Contour contour)
    {
        var section = new SectionMeasures(contour);
        var measures = new List<Measure>(Table.Length + 2 * contour.Marks.Count);
        foreach (var (key, unit, define) in Table)
        {
            var estimate = define(section);
            section.known[key] = estimate;
            measures.Add(estimate.Named(key, unit));
        }
        measures.AddRange(SectionMarks.Of(contour));
        return measures;
    }

    /// <summary>Distance between the outermost crossings of the two arms at a depth.</summary>
    private Estimate Width(double depth) =>
        left.AtDepth(depth) is { } l && right.AtDepth(depth) is { } r ? (r.At - l.At).Length : Estimate.NotCovered;

    /// <summary>
    /// Inclination below horizontal, degrees, of the total-least-squares line through the contour between arcs 40 and 140 mm, uniform
    /// in arc length, directed outwards: what an inclinometer laid on that side reads.
    /// </summary>
    private static Estimate Slope(Arm arm)
    {
        if (arm.Sample(40, 140, 80) is not { } points) return Estimate.NotCovered;
        var along = Line.ThroughUniform(points);
        return Math.Atan2(-along.Y, arm.Outwards * along.X) * (180 / Math.PI);
    }

    /// <summary>Signed area, cm², of M → along the contour → the crossing at a depth → (0, −depth) → M.</summary>
    private static Estimate HalfArea(Arm arm, double depth)
    {
        if (arm.AtDepth(depth) is not { } crossing || !arm.CoversTo(crossing)) return Estimate.NotCovered;
        return (arm.TwiceSweptArea(crossing) + depth * arm.Outwards * crossing.At.X) / 2 / SquareMillimetresPerCm2;
    }

    /// <summary>Signed area, cm², between the contour and the chord from M to arc 150 mm; negative = hollow.</summary>
    private static Estimate Fill(Arm arm) =>
        arm.AtArc(150) is { } end ? arm.TwiceSweptArea(end) / 2 / SquareMillimetresPerCm2 : Estimate.NotCovered;

    /// <summary>Difference of right and left in per cent of their mean.</summary>
    private static Estimate Skew(Estimate left, Estimate right) => 200 * (right - left) / (right + left);

    /// <summary>Root mean square distance, mm, over arcs 0 to 150 mm between the right side and the mirrored left side.</summary>
    private Estimate SkewShape()
    {
        if (left.Sample(0, 150, 120) is not { } l || right.Sample(0, 150, 120) is not { } r) return Estimate.NotCovered;
        double sum = 0;
        for (var k = 0; k < l.Length; k++)
        {
            var off = r[k] - new Point(-l[k].X, l[k].Y);
            sum += Simpson.Weight(k, l.Length) * off.Dot(off);
        }
        return Math.Sqrt(sum);
    }

    /// <summary>Radius, mm, of the circle fitted to the contour within 40 mm of arc either side of M; negative where its centre lies above.</summary>
    private Estimate RidgeRadius()
    {
        if (left.Sample(0, 40, 32) is not { } l || right.Sample(0, 40, 32) is not { } r) return Estimate.NotCovered;
        Array.Reverse(l);
        return CircleFit.ThroughUniform([.. l, .. r[1..]]).SignedRadius(positiveBelow: true);
    }

    private const double SquareMillimetresPerCm2 = 100;
}
