using BackHistory.Trends;

namespace BackHistory.History.Practices;

/// <summary>What the practice's horses taught, as it was learned: plain data, so that every decision that rested on it stays explained.</summary>
/// <param name="Movement">How often backs begin to move and how fast.</param>
/// <param name="Patterns">How common each way of changing is.</param>
/// <param name="Drift">The drift of single measures.</param>
/// <param name="Horses">From how many horses.</param>
/// <param name="UpTo">The last day that was looked at.</param>
public sealed record LearnedPriors(
    MovementPrior Movement, IReadOnlyList<LearnedWeight> Patterns, IReadOnlyList<LearnedDrift> Drift, int Horses, DateOnly UpTo)
{
    /// <summary>The rules with what was learned in the place of the rules of thumb.</summary>
    public WatchRules In(WatchRules rules) => rules with
    {
        Movement = Movement,
        Patterns = [.. rules.Patterns.Select(p => Patterns.FirstOrDefault(l => l.Pattern == p.Name) is { } learned ? p with { Weight = learned.Weight } : p)],
    };

    /// <summary>What is known of a measure's drift before a horse's own series is seen; null where nothing was learned.</summary>
    public DriftPrior? DriftOf(string measure) =>
        Drift.FirstOrDefault(d => d.Measure == measure) is { } learned ? new DriftPrior(learned.Median, learned.LogSd) : null;
}

public sealed record LearnedWeight(string Pattern, double Weight);

/// <param name="Median">In the measure's unit²/day³.</param>
public sealed record LearnedDrift(string Measure, double Median, double LogSd);
