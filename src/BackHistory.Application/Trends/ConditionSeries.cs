using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.Series;

namespace BackHistory.Application.Trends;

/// <summary>One measure of the veterinary view over time.</summary>
/// <param name="Change">From the first visit to the last.</param>
/// <param name="Trend">Weekly, to today; empty with visits of a single day.</param>
public sealed record ConditionSeries(
    string Key,
    string? Station,
    string Unit,
    IReadOnlyList<VisitValue> Visits,
    IReadOnlyList<TrendPoint> Trend,
    Estimate? LevelToday,
    Estimate? Change,
    Estimate? PerMonth
);
