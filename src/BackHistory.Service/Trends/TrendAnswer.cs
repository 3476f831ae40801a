using BackHistory.Trends.Robust;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Trends;

/// <summary>The trend of one measure at one station today, and since the saddle was last set.</summary>
public sealed record TrendAnswer(
    string Key,
    string? Station,
    string Unit,
    int Visits,
    double? Q,
    Estimate? Level,
    Estimate? SlopePerDay,
    SenSlope? TheilSen,
    KendallTest? MannKendall,
    VisitDifference? TwoVisits,
    MeasureDecision? SinceFit
);
