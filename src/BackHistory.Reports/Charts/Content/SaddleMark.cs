namespace BackHistory.Reports.Charts.Content;

/// <summary>Saddle work on one day.</summary>
/// <param name="On">The day, in the practice's time zone.</param>
/// <param name="Label">What was done, e.g. "saddle set"; the chart adds the date.</param>
/// <param name="IsBaseline">The work that changes are counted from.</param>
public sealed record SaddleMark(DateOnly On, string Label, bool IsBaseline = false);
