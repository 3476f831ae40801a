using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>
/// What a practice's horses have taught, kept apart from the rules that it set: learning anew starts from the rules every time and never
/// from what was learned before. Plain data: a version of it stands in an event, so that an old decision can be explained.
/// </summary>
/// <param name="Periods">How many stretches between a fit and the next were learned from.</param>
/// <param name="ScaleShares">In the order of <see cref="MovementPrior.Scales"/>.</param>
public sealed record LearnedPriors(
    int Periods,
    double MovesPerYear,
    IReadOnlyList<double> ScaleShares,
    double SingleShare,
    double SameStation,
    double WholeBack,
    IReadOnlyList<LearnedWeight> Patterns,
    IReadOnlyList<LearnedDrift> Drift,
    double WholeLean = 0
)
{
    /// <summary>The rules as they are judged by.</summary>
    internal WatchRules In(WatchRules rules) =>
        rules with
        {
            Movement = rules.Movement with
            {
                MovesPerYear = Math.Max(MovesPerYear, rules.Movement.LeastMovesPerYear),
                Scales =
                    ScaleShares.Count == rules.Movement.Scales.Count
                        ? [.. rules.Movement.Scales.Zip(ScaleShares, (s, share) => s with { Share = share })]
                        : rules.Movement.Scales,
                SingleShare = SingleShare,
                SameStation = SameStation,
                WholeBack = WholeBack,
                WholeLean = WholeLean,
            },
            Patterns = [.. rules.Patterns.Select(p => p with { Weight = p.Weight * FactorOf(p.Name) })],
            Learned = null,
        };

    double FactorOf(string pattern) =>
        Patterns.FirstOrDefault(p => string.Equals(p.Pattern, pattern, StringComparison.Ordinal))?.Factor ?? 1;

    /// <summary>What is known of a measure's drift here, or null.</summary>
    public DriftPrior? DriftOf(string measure, string? station) =>
        Drift
            .FirstOrDefault(d =>
                string.Equals(d.Measure, measure, StringComparison.Ordinal) && string.Equals(d.Station, station, StringComparison.Ordinal)
            )
            ?.Prior;
}
