namespace BackHistory.Reports.Charts.Content;

/// <summary>One measure of one side over time.</summary>
public sealed record TrendSeries
{
    public Side Side { get; init; }

    /// <summary>In any order.</summary>
    public required IReadOnlyList<VisitValue> Visits { get; init; }

    /// <summary>The fitted trend, dense enough to look smooth, in any order; after <c>Today</c> it is drawn as a forecast.</summary>
    public IReadOnlyList<TrendPoint> Trend { get; init; } = [];

    public Baseline? Baseline { get; init; }

    internal void Check()
    {
        foreach (var visit in Visits)
        {
            NotDrawableException.ThrowUnlessFinite(visit.Value, $"The value of the visit of {visit.On:yyyy-MM-dd}");
            NotDrawableException.ThrowUnlessSd(visit.Sd, $"The sd of the visit of {visit.On:yyyy-MM-dd}");
        }
        foreach (var point in Trend)
        {
            NotDrawableException.ThrowUnlessFinite(point.Level, $"The trend on {point.On:yyyy-MM-dd}");
            NotDrawableException.ThrowUnlessSd(point.Sd, $"The trend's sd on {point.On:yyyy-MM-dd}");
        }
        if (Baseline is { } baseline)
        {
            NotDrawableException.ThrowUnlessFinite(baseline.Level, "The baseline");
            NotDrawableException.ThrowUnlessSd(baseline.Allowance, "The threshold");
        }
    }
}
