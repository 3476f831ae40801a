namespace BackHistory.Store.Practices;

/// <summary>Saddle work done in one month, by day of the work.</summary>
public sealed record MonthDone(DateOnly Month, int Refits);
