namespace BackHistory.Reports.Charts.Content;

/// <summary>How far a measure may move from where it was when the saddle was set.</summary>
/// <param name="Since">The day of the baseline.</param>
/// <param name="Level">The level on that day, in the measure's unit.</param>
/// <param name="Allowance">The threshold either way, same unit, positive.</param>
public sealed record Baseline(DateOnly Since, double Level, double Allowance);
