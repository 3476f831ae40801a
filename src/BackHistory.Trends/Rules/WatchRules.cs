using BackHistory.Trends.Learning;
using BackHistory.Trends.Repeats;

namespace BackHistory.Trends.Rules;

/// <summary>
/// Everything that a practice may set about how a horse is judged since its last fit. The defaults are rule of thumb (method.md sections
/// 4 and 7, no source);
/// the whole is plain data, so that a version of it can stand in an event.
/// </summary>
public sealed record WatchRules
{
    public int Version { get; init; }
    public HorseBars Bars { get; init; } = new();
    public CalendarRules Calendar { get; init; } = new();
    public VetCautionRule VetCaution { get; init; } = new();
    public MovementPrior Movement { get; init; } = MovementPrior.RuleOfThumb;

    /// <summary>When the tracings of one visit lean alike, so that no refit and no caution rests on them alone.</summary>
    public LeanRule Lean { get; init; } = new();

    /// <summary>A visit at most this many days from the saddle's setting may stand as its baseline.</summary>
    public int BaselineWithinDays { get; init; } = 21;

    /// <summary>Probability of a slip of the hand from which a value asks for a second tracing.</summary>
    public double MeasureAgainBar { get; init; } = 0.5;
    public IReadOnlyList<ThresholdRule> Thresholds { get; init; } = DefaultRules.Thresholds;
    public IReadOnlyList<NoiseRule> Noise { get; init; } = DefaultRules.Noise;

    /// <summary>Measures that say nothing beyond their parts: where the parts are watched they are no evidence of their own.</summary>
    public IReadOnlyList<DerivedMeasure> Derived { get; init; } = DefaultRules.Derived;
    public IReadOnlyList<ChangePattern> Patterns { get; init; } = DefaultRules.Patterns;

    /// <summary>What the practice's horses have taught (<see cref="PriorLearning"/>); null = nothing yet.</summary>
    public LearnedPriors? Learned { get; init; }

    /// <summary>What the practice's repeats say of its own hands (<see cref="NoiseLearning"/>); null = nothing yet.</summary>
    public LearnedNoise? Repeats { get; init; }

    /// <summary>Standard deviation of a value whose tracing carries a quality flag, in those of one without.</summary>
    public double FlagFactor { get; init; } = 2;

    public static WatchRules Default { get; } = new();

    internal WatchRules Effective => Learned?.In(this) ?? this;

    /// <summary>The threshold of a measure, or null when it is not watched.</summary>
    public Threshold? ThresholdOf(string measure) => Find(Thresholds, r => r.Measure, measure)?.Threshold;

    /// <summary>The noise of a measure before the practice knows its own, or null when the rules name none.</summary>
    public NoiseRule? NoiseOf(string measure) => Find(Noise, r => r.Measure, measure);

    /// <summary>The layers of noise in the measure's unit: the practice's own where it has repeats enough, else the rule; null when the
    /// rules name none.</summary>
    /// <param name="value">About which the series lies, for rules in per cent.</param>
    public NoiseInUse? NoiseAt(string measure, string? station, string? method, string? by, double value) =>
        NoiseOf(measure) is { } rule ? (Repeats ?? NothingRepeated).NoiseFor(rule, measure, station, method, by, value) : null;

    static readonly LearnedNoise NothingRepeated = new([]);

    /// <summary>The rule for the very key before the rule for its family.</summary>
    static T? Find<T>(IReadOnlyList<T> rules, Func<T, string> key, string measure)
        where T : class
    {
        T? family = null;
        foreach (var rule in rules)
        {
            if (string.Equals(key(rule), measure, StringComparison.Ordinal))
                return rule;
            if (MeasureKey.IsFamilyOf(key(rule), measure))
                family ??= rule;
        }
        return family;
    }
}

static class MeasureKey
{
    internal static bool IsFamilyOf(string family, string measure) =>
        measure.Length > family.Length && measure[family.Length] == '@' && measure.StartsWith(family, StringComparison.Ordinal);

    internal static int SideOf(string measure) =>
        measure.Contains("-left", StringComparison.Ordinal) ? -1
        : measure.Contains("-right", StringComparison.Ordinal) ? 1
        : 0;

    internal static bool Matches(string rule, string measure) =>
        string.Equals(rule, measure, StringComparison.Ordinal) || IsFamilyOf(rule, measure);
}
