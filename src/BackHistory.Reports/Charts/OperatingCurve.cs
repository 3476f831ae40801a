namespace BackHistory.Reports.Charts;

/// <summary>One way of deciding over its settings.</summary>
/// <param name="InUse">The setting in use, marked on the curve.</param>
public sealed record OperatingCurve(string Name, IReadOnlyList<OperatingPoint> Points, OperatingPoint? InUse = null);
