namespace BackHistory.Trends.Rules;

/// <summary>All tracings of one measure of one horse on one day by one pair of hands.</summary>
public sealed record RepeatedVisit(string Horse, double Day, string? By, IReadOnlyList<double> Tracings);
