namespace BackHistory.Reports.Charts;

/// <summary>One way of deciding at one setting.</summary>
/// <param name="FalseAlarmsPerHorseYear">From 0 up.</param>
/// <param name="Detected">Part of the real changes found, 0–1.</param>
public sealed record OperatingPoint(double FalseAlarmsPerHorseYear, double Detected);
