namespace BackHistory.Trends.Series;

/// <summary>One value of one measure of one horse.</summary>
/// <param name="Day">When it was taken: days since 1970-01-01 00:00 UTC, fractions allowed (<see cref="Days"/>).</param>
/// <param name="Value">In the unit of the measure.</param>
/// <param name="Sd">Standard deviation of this one observation (the layer s_trace of one tracing), same unit, above zero.</param>
/// <param name="By">Whose hands; null = not known, which counts as hands of its own.</param>
public readonly record struct Observation(double Day, double Value, double Sd, string? By = null);
