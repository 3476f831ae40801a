namespace BackHistory.Trends.Series;

/// <summary>One value of one measure of one horse.</summary>
/// <param name="Day">When it was taken: days since 1970-01-01 00:00 UTC, fractions allowed (<see cref="Days"/>).</param>
/// <param name="Value">In the unit of the measure.</param>
/// <param name="Sd">Standard deviation of this one observation (the layer s_trace of one tracing), same unit, above zero.</param>
/// <param name="By">Whose hands; null = not known, which counts as hands of its own.</param>
public readonly record struct Observation(double Day, double Value, double Sd, string? By = null);

/// <summary>The layers of noise that observations share.</summary>
/// <param name="VisitSd">Standard deviation of the offset shared by all observations of one UTC calendar day (s_visit).</param>
/// <param name="PersonSd">Standard deviation of the offset that each pair of hands brings along (s_person).</param>
public sealed record NoiseLayers(double VisitSd, double PersonSd)
{
    public static NoiseLayers None { get; } = new(0, 0);
}

/// <summary>A value with its standard deviation, both in the unit of the measure (per day for a slope).</summary>
public sealed record Estimate(double Value, double Sd)
{
    /// <summary>The two-sided normal interval value ± z·sd; z = 1.96 holds the truth 95 times in 100.</summary>
    public (double Low, double High) Interval(double z = 1.96) => (Value - z * Sd, Value + z * Sd);
}
