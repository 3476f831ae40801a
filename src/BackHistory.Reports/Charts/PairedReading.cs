namespace BackHistory.Reports.Charts;

/// <summary>Two measurements of the same horse by two trials, people or methods; in the measure's unit.</summary>
public sealed record PairedReading(double First, double Second);
