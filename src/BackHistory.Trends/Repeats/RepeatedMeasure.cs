using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Repeats;

/// <summary>All tracings or readings of one measure of one horse at one station on one day by one pair of hands.</summary>
/// <param name="Method">With what it was taken.</param>
public sealed record RepeatedMeasure(string Measure, string? Station, string Method, RepeatedVisit Visit);
