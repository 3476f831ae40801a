namespace BackHistory.Trends.Series;

/// <summary>A value with its standard deviation, both in the unit of the measure (per day for a slope).</summary>
public sealed record Uncertain(double Value, double Sd)
{
    /// <summary>The two-sided normal interval value ± z·sd; z = 1.96 holds the truth 95 times in 100.</summary>
    public (double Low, double High) Interval(double z = 1.96) => (Value - z * Sd, Value + z * Sd);
}
