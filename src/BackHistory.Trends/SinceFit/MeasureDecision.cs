using BackHistory.Trends.Series;

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
    Uncertain? Level,
    Uncertain? Baseline,
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
    public Uncertain? Together { get; init; }

    /// <summary>By itself the measure has gone one way, with all measures taken together the other, both by half a standard deviation at
    /// least (rule of thumb).</summary>
    internal bool TurnsTogether =>
        Alone is { } alone
        && Together is { } together
        && Math.Abs(alone.Change) > alone.Sd / 2
        && Math.Abs(together.Value) > together.Sd / 2
        && Math.Sign(alone.Change) != Math.Sign(together.Value);
}
