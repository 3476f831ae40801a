using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>Whether muscle has been lost on one side only: a matter for a veterinary surgeon before any refit.</summary>
static class VetCautionJudge
{
    internal static VetCaution? Judge(JointEvidence joint, IReadOnlyList<WatchedSeries> series, double day, WatchRules rules)
    {
        var rule = rules.VetCaution;
        var prediction = new Prediction(rules.Movement, day);
        var left = OneSide(joint, series, prediction, rule, "left", "right");
        var right = OneSide(joint, series, prediction, rule, "right", "left");
        var worse = left.P >= right.P ? left : right;
        return worse.P >= rule.Bar ? worse : null;
    }

    static VetCaution OneSide(
        JointEvidence joint,
        IReadOnlyList<WatchedSeries> series,
        Prediction prediction,
        VetCautionRule rule,
        string side,
        string other
    )
    {
        var (here, there) = (rule.MeasureOn(side), rule.MeasureOn(other));
        double p = 0,
            best = 0,
            share = 0,
            mean = 0,
            square = 0;
        string? station = null;
        foreach (var h in joint.Moving)
        {
            var pattern = joint.Patterns[h.Pattern];
            if (Member(pattern, series, there) >= 0 || Member(pattern, series, here) is not (>= 0 and var m))
                continue;
            var watched = series[pattern.Series[m]];
            // Thresholds of areas are per cent of the baseline; any other is brought to per cent of the level it is taken from.
            var percent = watched.Threshold.PercentOfBaseline ? watched.Threshold.Amount : rule.LossPercent;
            var (value, sd) = prediction.ValueFrom(h.Movement);
            var scale = percent * pattern.Loadings[m];
            var change = new Uncertain(value * scale, sd * Math.Abs(scale));
            var lost = h.Weight * (change.Sd == 0 ? 0 : Normal.Cdf((-rule.LossPercent - change.Value) / change.Sd));
            p += lost;
            share += h.Weight;
            mean += h.Weight * change.Value;
            square += h.Weight * (change.Value * change.Value + change.Sd * change.Sd);
            if (lost > best)
                (best, station) = (lost, pattern.Station);
        }
        if (share == 0)
            return new(side, null, 0, 0, 0);
        mean /= share;
        return new(side, station, p, mean, Math.Sqrt(Math.Max(0, square / share - mean * mean)));
    }

    static int Member(WatchedPattern pattern, IReadOnlyList<WatchedSeries> series, string measure)
    {
        for (var m = 0; m < pattern.Series.Length; m++)
            if (pattern.Loadings[m] != 0 && MeasureKey.Matches(measure, series[pattern.Series[m]].Measure))
                return m;
        return -1;
    }
}
