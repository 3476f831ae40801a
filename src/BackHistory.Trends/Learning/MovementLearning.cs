using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.Trends.Learning;

/// <summary>
/// How often this practice's backs begin to move, how fast, and in which patterns: expectation–maximisation (Dempster, Laird and Rubin
/// 1977, J. R. Statist.
/// Soc. B 39:1) over the hypotheses of <see cref="JointEvidence"/>, held to the rule of thumb by pseudo-counts so that a small practice
/// is not led astray.
/// </summary>
static class MovementLearning
{
    const int Rounds = 30;

    /// <summary>A practice that has seldom seen a pattern keeps its guard against it, and one that often has does not see it everywhere
    /// (engineering choice, no source).</summary>
    const double MostFactor = 4;

    /// <summary>The rule of thumb counts as much as so many movements seen.</summary>
    const double PriorMoves = 10;

    internal static LearnedMovement Learn(IReadOnlyList<FittedPeriod> periods, WatchRules rules)
    {
        var cases = periods.Select(p => Case(p, rules)).OfType<MovementCase>().Where(c => c.Years > 0).ToList();
        var state = new LearnedMovement(rules);
        for (var round = 0; round < Rounds; round++)
            state = state.Improved(cases, PriorMoves, MostFactor);
        return state;
    }

    static MovementCase? Case(FittedPeriod period, WatchRules rules)
    {
        var series = period.Series.Where(s => s.Observations.Any(o => o.Day <= period.UntilDay)).ToList();
        if (series.Count == 0)
            return null;
        var thresholds = series.Select(s => s.Threshold.At(LevelOf(s))).ToArray();
        var alternatives = new List<MovementCase.Alternative>();
        var joint = JointEvidence.Weigh(series, thresholds, period.BaselineDay, period.UntilDay, rules, alternatives);
        return joint is null ? null : new(joint.YearsSeen, alternatives);
    }

    static double LevelOf(WatchedSeries series) => series.Observations.Average(o => o.Value);
}

/// <summary>The estimates of one round.</summary>
internal sealed class LearnedMovement
{
    readonly double _rate;
    readonly double[] _scales;

    /// <summary>Factor on each pattern's weight against the rules that the cases were judged with.</summary>
    readonly Dictionary<string, double> _patterns;
    readonly WatchRules _rules;

    internal LearnedMovement(WatchRules rules)
        : this(rules, rules.Movement.MovesPerYear, [.. rules.Movement.Scales.Select(s => s.Share)], new(StringComparer.Ordinal)) { }

    LearnedMovement(WatchRules rules, double rate, double[] scales, Dictionary<string, double> patterns) =>
        (_rules, _rate, _scales, _patterns) = (rules, rate, scales, patterns);

    internal LearnedMovement Improved(List<MovementCase> cases, double priorMoves, double mostFactor)
    {
        var thumb = _rules.Movement;
        double moves = priorMoves,
            years = priorMoves / thumb.MovesPerYear;
        var scales = thumb.Scales.Select(s => priorMoves * s.Share).ToArray();
        var (seen, expected) = (
            new Dictionary<string, double>(StringComparer.Ordinal),
            new Dictionary<string, double>(StringComparer.Ordinal)
        );
        foreach (var one in cases)
        {
            var weights = one
                .Alternatives.Select(a =>
                    a.PatternShare
                    * _patterns.GetValueOrDefault(a.Pattern, 1)
                    * _scales[a.Scale]
                    * (Math.Exp(-_rate * a.FromYears) - Math.Exp(-_rate * a.ToYears))
                    * a.LikelihoodRatio
                )
                .ToArray();
            var steady = Math.Exp(-_rate * one.Years);
            var total = steady + weights.Sum();
            years += steady / total * one.Years;
            for (var i = 0; i < weights.Length; i++)
            {
                var (share, a) = (weights[i] / total, one.Alternatives[i]);
                moves += share;
                years += share * (a.FromYears + a.ToYears) / 2;
                scales[a.Scale] += share;
                seen[a.Pattern] = seen.GetValueOrDefault(a.Pattern) + share;
            }
            foreach (var pattern in one.Alternatives.GroupBy(a => a.Pattern, StringComparer.Ordinal))
                expected[pattern.Key] =
                    expected.GetValueOrDefault(pattern.Key)
                    + weights.Sum() / total * pattern.Sum(a => a.PatternShare) / one.Alternatives.Sum(a => a.PatternShare);
        }
        var factors = new Dictionary<string, double>(StringComparer.Ordinal);
        var all = expected.Values.Sum();
        foreach (var (pattern, count) in expected)
        {
            var prior = all > 0 ? priorMoves * count / all : 1;
            factors[pattern] = Math.Clamp((seen.GetValueOrDefault(pattern) + prior) / (count + prior), 1 / mostFactor, mostFactor);
        }
        var sum = scales.Sum();
        return new(_rules, moves / years, [.. scales.Select(s => s / sum)], factors);
    }

    internal double Rate => _rate;
    internal IReadOnlyList<double> ScaleShares => _scales;
    internal double SingleShare =>
        Math.Clamp(_rules.Movement.SingleShare * _patterns.GetValueOrDefault(WatchedPattern.Alone, 1), 0.05, 0.5);
    internal IReadOnlyList<LearnedWeight> Patterns =>
        [.. _rules.Patterns.Select(p => new LearnedWeight(p.Name, _patterns.GetValueOrDefault(p.Name, 1)))];
}
