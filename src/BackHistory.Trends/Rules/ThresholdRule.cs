namespace BackHistory.Trends.Rules;

/// <summary>The threshold of a measure.</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
public sealed record ThresholdRule(string Measure, double Amount, bool PercentOfBaseline = false)
{
    public Threshold Threshold => new(Amount, PercentOfBaseline);
}
