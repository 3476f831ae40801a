namespace BackHistory.Trends.Rules;

/// <summary>When loss on one side is a matter for a veterinary surgeon before any refit.</summary>
/// <param name="Measure">The measure of a side's muscle; <c>left</c> and <c>right</c> are put in place of {side}.</param>
/// <param name="LossPercent">Loss since the baseline on one side that matters, per cent of its level then.</param>
/// <param name="Bar">Probability of such a loss from which the caution is raised, if a second sign bears it out.</param>
public sealed record VetCautionRule(string Measure = "half-area-{side}", double LossPercent = 8, double Bar = 0.8)
{
    internal string MeasureOn(string side) => Measure.Replace("{side}", side, StringComparison.Ordinal);
}
