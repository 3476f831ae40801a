namespace BackHistory.Reports.Charts;

/// <summary>How much horses of a group change in 90 days, in the measure's unit: 10, 50 and 90 of 100 lie below.</summary>
/// <param name="Name">The group in words.</param>
/// <param name="Count">Changes seen.</param>
public sealed record ChangeBar(string Name, int Count, double Low, double Median, double High);
