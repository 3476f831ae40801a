using BackHistory.Trends.Series;

namespace BackHistory.Trends.Robust;

/// <summary>Trend statistics for people who distrust models: they use order and pairs only.</summary>
public static partial class RobustTrend
{
    /// <summary>
    /// Theil–Sen slope and the interval of Sen 1968 (J. Am. Statist. Ass. 63:1379) from the normal approximation of Kendall's S; ranks
    /// are rounded to the nearest and kept inside the sample. Null when all points are of one day.
    /// </summary>
    public static SenSlope? TheilSen(IReadOnlyList<Observation> points) => TheilSen(points, 1.959963984540054);

    internal static SenSlope? TheilSen(IReadOnlyList<Observation> points, double z)
    {
        var ordered = PairedDays.InOrder(points);
        var slopes = new SlopeOrder(ordered);
        var n = slopes.Count;
        if (n == 0)
            return null;
        var (below, above) = (slopes.At((n - 1) / 2), slopes.At(n / 2));
        var median = below + (above - below) / 2;
        if (PairedDays.CountDays(ordered) < 4)
            return new(median, null, null);
        var half = z * Math.Sqrt(PairedDays.VarianceOfS(ordered));
        var low = (int)Math.Round((n - half) / 2) - 1;
        var high = (int)Math.Round((n + half) / 2);
        return new(median, slopes.At(Math.Clamp(low, 0, n - 1)), slopes.At(Math.Clamp(high, 0, n - 1)));
    }
}
