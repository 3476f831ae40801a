namespace BackHistory.Trends.SinceFit;

/// <summary>The probabilities at which a state begins.</summary>
public sealed record DecisionBars(double Refit = 0.80, double Watch = 0.20)
{
    public static DecisionBars Default { get; } = new();
}
