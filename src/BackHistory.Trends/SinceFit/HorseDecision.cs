using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>What one watched measure says since the baseline.</summary>
/// <param name="Level">On the day of the decision.</param>
/// <param name="Baseline">Level at the baseline.</param>
/// <param name="Alone">The decision of method.md section 7 on this measure by itself; null with visits of a single day.</param>
/// <param name="P">The probability that it has passed its threshold with every measure taken together; null without any visit.</param>
/// <param name="MinimalDetectable">What two visits of one tracing each can tell apart 95 times in 100, in the measure's unit.</param>
/// <param name="ThresholdMeasuresTheHand">The threshold is under the minimal detectable change.</param>
/// <param name="Q">Drift intensity used, unit²/day³.</param>
/// <param name="MeasureAgain">The latest visit's value is more likely a slip of the hand than noise or a movement: trace it a second
/// time.</param>
public sealed record MeasureDecision(
    string Measure,
    string? Station,
    string Unit,
    Estimate? Level,
    Estimate? Baseline,
    double Threshold,
    Decision? Alone,
    double? P,
    double MinimalDetectable,
    bool ThresholdMeasuresTheHand,
    double? Q,
    bool MeasureAgain
)
{
    /// <summary>Change since the baseline with every measure taken together, in the unit; what all stations of a visit show alike may be
    /// the hand, and then it is not in here.</summary>
    public Estimate? Together { get; init; }

    /// <summary>By itself the measure has gone one way, with all measures taken together the other, both by half a standard deviation at
    /// least (rule of thumb).</summary>
    internal bool TurnsTogether =>
        Alone is { } alone
        && Together is { } together
        && Math.Abs(alone.Change) > alone.Sd / 2
        && Math.Abs(together.Value) > together.Sd / 2
        && Math.Sign(alone.Change) != Math.Sign(together.Value);
}

/// <summary>A way in which backs change, as the evidence sees it.</summary>
/// <param name="Name">Key of the pattern, with its station where it has one.</param>
/// <param name="Share">Probability that this is what happened, against the other patterns and against no change.</param>
/// <param name="Change">Size in thresholds; the sign is that of the pattern.</param>
/// <param name="Measures">How many watched measures bear on it.</param>
public sealed record PatternEvidence(string Name, string? Station, double Share, Estimate Change, int Measures);

/// <summary>Loss on one side that a veterinary surgeon should see before any refit (method.md section 9).</summary>
public sealed record VetCaution(string Side, string? Station, double P, double ChangePercent, double SdPercent);

/// <summary>A sentence of the explanation with the key of what it says: <c>owner</c> is the one for a letter, <c>state</c> the one for
/// the page. Made in Language.</summary>
public sealed record Statement(string Kind, string Text);

/// <summary>Everything a page, a letter or a chart needs to show what was decided on one horse and why.</summary>
/// <param name="P">The probability that at least one watched measure has passed its threshold, all taken together; null without any visit
/// or without a baseline.</param>
/// <param name="Driver">The measure that drives the state; null when there is none to name.</param>
/// <param name="Patterns">What may have happened, likeliest first.</param>
/// <param name="PByMonth">The same probability now and after 1, 2, … 12 months (of 365.25/12 days) if nothing else is measured; empty
/// without any visit.</param>
/// <param name="Statements">In words, where somebody has put them in; a decision is made without.</param>
/// <param name="ReassessOn">The first day on which the state can be another although nothing new was measured; null = not within the
/// horizon.</param>
public sealed record HorseDecision(
    WatchState State,
    double? P,
    DateOnly BaselineOn,
    DateOnly AsOf,
    IReadOnlyList<MeasureDecision> Measures,
    MeasureDecision? Driver,
    IReadOnlyList<PatternEvidence> Patterns,
    Forecast? Forecast,
    IReadOnlyList<double> PByMonth,
    NextCheck NextCheck,
    DateOnly? ReassessOn,
    VetCaution? Caution,
    IReadOnlyList<Statement> Statements,
    int RulesVersion
)
{
    /// <summary>
    /// <see cref="P"/> with every pattern in its likelier direction only: what refit goes by, so that not knowing where a back has gone
    /// is never told as a change.
    /// </summary>
    public double? POneWay { get; init; }

    /// <summary>
    /// The visit whose tracings lean alike and without which there would be no refit, or no caution: it waits to be traced again, and what
    /// it says of left and right is in none of the numbers here. Null when nothing waits.
    /// </summary>
    public VisitLean? Leaning { get; init; }

    /// <summary>
    /// Earlier visits whose tracings leaned alike and that no other visit bore out: what they say of left and right is in none of the
    /// numbers here.
    /// </summary>
    public IReadOnlyList<VisitLean> LeftOut { get; init; } = [];
}
