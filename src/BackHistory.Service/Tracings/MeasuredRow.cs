namespace BackHistory.Service.Tracings;

/// <param name="Says">The measure in words.</param>
/// <param name="Reads">The value in the practice's units, with its standard deviation; null where there is none.</param>
public sealed record MeasuredRow(string Key, double? Value, string Unit, double? Sd, string? Why, string Says, string? Reads);
