namespace BackHistory.Trends.Caseload;

/// <summary>How many horses of a practice are expected to pass a threshold in one month.</summary>
/// <param name="Low">With <paramref name="High"/> it holds the number 80 times in 100.</param>
public sealed record MonthForecast(DateOnly Month, double Expected, int Low, int High);
