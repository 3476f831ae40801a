using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>A setting on the gauge.</summary>
/// <param name="Value">In the chart's unit.</param>
/// <param name="Position">Between the marks: 2.5 lies half way from the third mark to the fourth (the first is 0).</param>
public sealed record GaugeSetting(Side Side, double Value, double Position, string Label);
