namespace BackHistory.Reports.Charts;

/// <param name="Name">What the groups are by.</param>
public sealed record ChangeBars(string Name, IReadOnlyList<ChangeBar> Bars);
