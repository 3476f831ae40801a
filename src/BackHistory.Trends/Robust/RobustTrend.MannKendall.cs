using BackHistory.Trends.Series;

namespace BackHistory.Trends.Robust;

public static partial class RobustTrend
{
    /// <summary>
    /// Mann–Kendall: exact under ten points without ties and without two points of one day, else the tie-corrected normal approximation
    /// with continuity correction (Gilbert 1987, ch. 16). Null when all points are of one day.
    /// </summary>
    public static KendallTest? MannKendall(IReadOnlyList<Observation> points)
    {
        var ordered = PairedDays.InOrder(points);
        var days = PairedDays.CountDays(ordered);
        if (days < 2)
            return null;
        double s = 0;
        for (var i = 0; i < ordered.Length; i++)
        for (var j = i + 1; j < ordered.Length; j++)
            if (!PairedDays.SameDay(ordered[i], ordered[j]))
                s += Math.Sign(ordered[j].Value - ordered[i].Value);
        var variance = PairedDays.VarianceOfS(ordered);
        if (days < 4)
            return new(s, variance, null);
        var exact = ordered.Length < 10 && days == ordered.Length && !PairedDays.HasTies(ordered);
        return new(s, variance, exact ? ExactP(ordered.Length, s) : NormalP(s, variance));
    }

    static double NormalP(double s, double variance)
    {
        var excess = Math.Max(0, Math.Abs(s) - 1);
        return excess == 0 ? 1 : 2 * Normal.Cdf(-excess / Math.Sqrt(variance));
    }

    /// <summary>P(|S| ≥ |s|) over all n! orders, by counting permutations by inversions.</summary>
    static double ExactP(int n, double s)
    {
        var counts = new double[] { 1 };
        for (var size = 2; size <= n; size++)
        {
            var next = new double[counts.Length + size - 1];
            for (var i = 0; i < counts.Length; i++)
            for (var k = 0; k < size; k++)
                next[i + k] += counts[i];
            counts = next;
        }
        double all = 0,
            asFar = 0;
        for (var inversions = 0; inversions < counts.Length; inversions++)
        {
            all += counts[inversions];
            if (Math.Abs(counts.Length - 1 - 2 * inversions) >= Math.Abs(s))
                asFar += counts[inversions];
        }
        return asFar / all;
    }
}
