using BackHistory.Shape.Contours;
using BackHistory.Shape.Errors;

namespace BackHistory.Shape.Measures;

/// <summary>Where a named anatomical mark lies: outwards from M on its side, and down. A mark is as noisy as a traced point.</summary>
internal static class SectionMarks
{
    internal static IEnumerable<Measure> MeasureMarks(Contour contour, MeasuredArm midline, Sensitivity errors)
    {
        var covered = !contour.Gaps.Touch(contour.MidlineParameter, contour.MidlineParameter);
        var noise = contour.Registered.Noise;
        foreach (var (name, at) in contour.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            var (key, outwards) = SideOf(name, at);
            var (lateral, depth) = covered ? (outwards * at.X, midline.DepthOf(at)) : (Estimate.NotCovered, Estimate.NotCovered);
            yield return WithNoise(lateral.Named("mark-lateral@" + key, "mm", errors), noise);
            yield return WithNoise(depth.Named("mark-depth@" + key, "mm", errors), noise);
        }
    }

    private static Measure WithNoise(Measure measure, double noise) =>
        measure.Sd is { } sd ? measure with { Sd = Math.Sqrt(sd * sd + noise * noise) } : measure;

    /// <summary>A mark that does not name its side gets the one it lies on.</summary>
    private static (string Key, double Outwards) SideOf(string name, Point at) =>
        name.EndsWith("-left", StringComparison.Ordinal) ? (name, -1)
        : name.EndsWith("-right", StringComparison.Ordinal) ? (name, 1)
        : at.X < 0 ? (name + "-left", -1)
        : (name + "-right", 1);
}
