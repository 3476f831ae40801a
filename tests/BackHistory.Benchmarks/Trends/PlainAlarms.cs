using BackHistory.Trends.Robust;

namespace BackHistory.Benchmarks.Trends;

/// <summary>Alarms without a model, as a score a visit: the alarm is raised where the score passes a bar.</summary>
static class PlainAlarms
{
    /// <summary>(a) Largest difference between a visit and the baseline visit, in thresholds.</summary>
    internal static double[] AgainstThreshold(SimulatedVisits visits, int baseline) =>
        Largest(visits, baseline, (i, difference, sd) => Math.Abs(difference) / Watchlist.ThresholdOf(i).At(visits.Reference[i]));

    /// <summary>(b) The same against the larger of threshold and minimal detectable change (one pair of hands).</summary>
    internal static double[] AgainstDetectable(SimulatedVisits visits, int baseline) =>
        Largest(
            visits,
            baseline,
            (i, difference, sd) => Math.Abs(difference) / Math.Max(Watchlist.ThresholdOf(i).At(visits.Reference[i]), 1.96 * sd)
        );

    /// <summary>(c) The largest of the tabular CUSUMs of every measure, in sds of a difference from the baseline visit.</summary>
    /// <param name="limits">Reference value in thresholds.</param>
    internal static double[] CusumOf(SimulatedVisits visits, int baseline, double limits)
    {
        var scores = new double[visits.Days.Length];
        for (var i = 0; i < Watchlist.Count; i++)
        {
            var sd = DifferenceSd(visits, i, baseline, baseline);
            var differences = Enumerable
                .Range(baseline + 1, visits.Days.Length - baseline - 1)
                .Select(v => (visits.Mean(i, v) - visits.Mean(i, baseline)) / sd);
            var sums = Cusum.Sums([.. differences], 0, limits * Watchlist.ThresholdOf(i).At(visits.Reference[i]) / sd);
            for (var k = 0; k < sums.Count; k++)
                scores[baseline + 1 + k] = Math.Max(scores[baseline + 1 + k], Math.Max(sums[k].High, sums[k].Low));
        }
        return scores;
    }

    static double[] Largest(SimulatedVisits visits, int baseline, Func<int, double, double, double> score)
    {
        var scores = new double[visits.Days.Length];
        for (var v = baseline + 1; v < visits.Days.Length; v++)
        for (var i = 0; i < Watchlist.Count; i++)
            scores[v] = Math.Max(scores[v], score(i, visits.Mean(i, v) - visits.Mean(i, baseline), DifferenceSd(visits, i, baseline, v)));
        return scores;
    }

    static double DifferenceSd(SimulatedVisits visits, int series, int a, int b)
    {
        var trace = SimulatedVisits.Sd(series, visits.Reference[series], r => r.TraceSd);
        var visit = SimulatedVisits.Sd(series, visits.Reference[series], r => r.VisitSd);
        return Math.Sqrt(2 * visit * visit + trace * trace * (1.0 / visits.Tracings[a] + 1.0 / visits.Tracings[b]));
    }
}
