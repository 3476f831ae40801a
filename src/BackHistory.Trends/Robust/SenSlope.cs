namespace BackHistory.Trends.Robust;

/// <summary>Median of the slopes of all pairs of different days, unit per day, with Sen's 95 % interval (null under four days).</summary>
public sealed record SenSlope(double PerDay, double? Low, double? High);
