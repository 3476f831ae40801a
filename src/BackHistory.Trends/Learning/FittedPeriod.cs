using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Learning;

/// <summary>A horse between one setting of its saddle and the next, or until today: what a practice learns from.</summary>
public sealed record FittedPeriod(IReadOnlyList<WatchedSeries> Series, double BaselineDay, double UntilDay);
