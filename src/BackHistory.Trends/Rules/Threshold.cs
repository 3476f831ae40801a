namespace BackHistory.Trends.Rules;

/// <summary>How large a change matters.</summary>
/// <param name="Amount">In the measure's unit, or in per cent of the level at the baseline.</param>
public sealed record Threshold(double Amount, bool PercentOfBaseline = false)
{
    /// <summary>The threshold in the measure's unit.</summary>
    public double At(double baselineLevel) => PercentOfBaseline ? Amount / 100 * Math.Abs(baselineLevel) : Amount;
}
