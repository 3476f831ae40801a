namespace BackHistory.Trends.Caseload;

/// <summary>One horse's rate of change over one stretch of time, for the practice's picture.</summary>
/// <param name="PerQuarter">Change per 90 days in the measure's unit.</param>
public readonly record struct ObservedChange(double AgeYears, DateOnly Middle, double PerQuarter);
