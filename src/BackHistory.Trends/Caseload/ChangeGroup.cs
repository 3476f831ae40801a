namespace BackHistory.Trends.Caseload;

/// <summary>How much horses of a group change in 90 days: 10, 50 and 90 of 100 lie below.</summary>
public sealed record ChangeGroup(string Group, int Count, double Low, double Median, double High);
