namespace BackHistory.Trends.Rules;

/// <summary>How much more common a pattern is here than the rules say.</summary>
public sealed record LearnedWeight(string Pattern, double Factor);
