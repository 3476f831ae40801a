namespace BackHistory.Reports.Charts;

/// <summary>One line of a workshop's gauge table: its own mark, and what it means.</summary>
/// <param name="Mark">As stamped on the gauge.</param>
/// <param name="Value">In the chart's unit.</param>
public sealed record GaugeMark(string Mark, double Value);
