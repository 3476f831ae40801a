using System.Globalization;
using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>
/// What a sheet or a horse that leans does to measures. A cross-section turned clockwise (seen from behind) by θ about its midline reads
/// its right side θ steeper and its left side θ flatter; a half area within a depth D loses what the contour sweeps, ½·(w² + D²) per
/// radian with w that side's reach at D, and the other half gains its own. Widths, the opening, radii and fills stay as they are to first
/// order.
/// </summary>
static class Turning
{
    const double Degree = Math.PI / 180,
        SquareMillimetresPerCm2 = 100;

    /// <summary>Depth of a half area whose key names none, mm.</summary>
    const double UsualDepth = 150;

    /// <summary>
    /// 1 when a clockwise turn raises the measure, −1 when it lowers it, 0 when it leaves it or says nothing of its direction. Readings go
    /// by gravity.
    /// </summary>
    internal static int SignOf(string measure) =>
        FamilyOf(measure) switch
        {
            "slope-right" or "skew-slope" or "half-area-left" or "half-volume-left" => 1,
            "slope-left" or "skew-area" or "half-area-right" or "half-volume-right" => -1,
            _ => 0,
        };

    internal static bool SlopesOfSide(string measure) => FamilyOf(measure) is "slope-left" or "slope-right";

    /// <summary>
    /// What a clockwise turn of one degree does to a measure, in its unit; 0 where it does nothing, or nothing that has a direction.
    /// </summary>
    /// <param name="all">Of the same horse: the width at the same depth says how far out the flank lies.</param>
    internal static double PerDegree(WatchedSeries series, IReadOnlyList<WatchedSeries> all)
    {
        if (series.Contour is { } contour)
            return contour.Turn;
        var sign = SignOf(series.Measure);
        switch (FamilyOf(series.Measure))
        {
            case "slope-left" or "slope-right":
                return sign;
            case "skew-slope":
                return 2 * sign;
            case "half-area-left" or "half-area-right":
                var depth = DepthOf(series.Measure);
                var key = series.Measure.Replace("half-area-left", "width", StringComparison.Ordinal);
                key = key.Replace("half-area-right", "width", StringComparison.Ordinal);
                var across = all.FirstOrDefault(s =>
                    string.Equals(s.Measure, key, StringComparison.Ordinal)
                    && string.Equals(s.Station, series.Station, StringComparison.Ordinal)
                );
                var width = across is null ? WidthOf(2 * Mean(series), depth) : Mean(across);
                return sign * AreaPerDegree(width, depth) / 2;
            default:
                return 0;
        }
    }

    static double Mean(WatchedSeries series) => series.Observations.Average(o => o.Value);

    /// <summary>Whether a turned tracing gives another value of the measure.</summary>
    internal static bool Moves(string measure) =>
        SignOf(measure) != 0 || FamilyOf(measure) is "skew-shape" or "mark-lateral" or "mark-depth";

    /// <summary>Whether the measure is taken from a cross-section.</summary>
    internal static bool OfSection(string measure) =>
        Moves(measure) || FamilyOf(measure) is "width" or "width-ratio" or "opening" or "ridge-radius" or "fill-left" or "fill-right";

    /// <summary>
    /// 1 when the pattern, as it grows, does what a clockwise turn would do, −1 when it does what an anticlockwise one would, 0 when it
    /// does neither.
    /// </summary>
    internal static int SignOf(ChangePattern pattern)
    {
        var sum = pattern.Loadings.Sum(l => l.Loading * SignOf(l.Measure));
        return Math.Abs(sum) < 1e-9 ? 0 : Math.Sign(sum);
    }

    /// <summary>
    /// cm² that the two half areas together part by, right less left, for a clockwise turn of one degree; the same as a positive number.
    /// </summary>
    /// <param name="width">Between the two crossings at the depth, mm.</param>
    /// <param name="depth">mm.</param>
    internal static double AreaPerDegree(double width, double depth) =>
        (width * width / 4 + depth * depth) * Degree / SquareMillimetresPerCm2;

    /// <summary>The width, mm, of a back of straight flanks with this area, cm², within the depth.</summary>
    internal static double WidthOf(double area, double depth) => 2 * area * SquareMillimetresPerCm2 / depth;

    internal static double DepthOf(string measure)
    {
        var cut = measure.IndexOf('@', StringComparison.Ordinal);
        var depth = cut < 0 ? "" : measure[(cut + 1)..];
        return double.TryParse(depth, NumberStyles.Float, CultureInfo.InvariantCulture, out var mm) ? mm : UsualDepth;
    }

    static string FamilyOf(string measure)
    {
        var cut = measure.IndexOf('@', StringComparison.Ordinal);
        return cut < 0 ? measure : measure[..cut];
    }
}
