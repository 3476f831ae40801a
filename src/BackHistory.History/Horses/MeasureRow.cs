namespace BackHistory.History.Horses;

/// <summary>One number of one visit.</summary>
/// <param name="Sd">Standard deviation from the tracing's own noise; null where it has none.</param>
/// <param name="Why">Why there is no value.</param>
public sealed record MeasureRow(string Key, string? Station, double? Value, string Unit, double? Sd = null, string? Why = null);
