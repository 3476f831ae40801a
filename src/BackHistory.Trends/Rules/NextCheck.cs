namespace BackHistory.Trends.Rules;

/// <summary>When the next check is due, and why then.</summary>
public sealed record NextCheck(DateOnly Due, CheckReason Reason);
