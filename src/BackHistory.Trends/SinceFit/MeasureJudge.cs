using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>One watched measure by itself.</summary>
static class MeasureJudge
{
    internal static MeasureDecision Judge(WatchedSeries series, double baselineDay, double asOfDay)
    {
        var trend = TrendFit.Fit(series.Observations, series.Noise, prior: series.Prior);
        var (baseline, level) = trend.Between(baselineDay, asOfDay, out var change);
        var reference = baseline?.Value ?? trend.Level(trend.LastDay)!.Value;
        var threshold = series.Threshold.At(reference);
        var detectable = Detectable(series);
        var alone = change is null ? null : Decision.Decide(change, threshold);
        return new(
            series.Measure,
            series.Station,
            series.Unit,
            level,
            baseline,
            threshold,
            alone,
            null,
            detectable,
            threshold < detectable,
            trend.Q,
            false
        );
    }

    /// <summary>1.96·√2·√(s_visit² + s_trace²), one tracing a visit by one pair of hands.</summary>
    static double Detectable(WatchedSeries series)
    {
        double sum = 0;
        foreach (var o in series.Observations)
            sum += o.Sd * o.Sd;
        return Normal.Z95 * Math.Sqrt(2 * (sum / series.Observations.Count + series.Noise.VisitSd * series.Noise.VisitSd));
    }
}
