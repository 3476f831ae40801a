namespace BackHistory.Reports.Charts.Content;

/// <summary>Saddle work on one day.</summary>
/// <param name="On">The day, in the practice's time zone.</param>
/// <param name="Label">What was done, e.g. "saddle set"; the chart adds the date.</param>
/// <param name="IsBaseline">The work that changes are counted from.</param>
public sealed record SaddleMark(DateOnly On, string Label, bool IsBaseline = false);

public enum SpanKind
{
    LayOff,
    Illness,
    Work,
}

/// <summary>A time that explains a change.</summary>
/// <remarks><c>To</c> is the last day; null = still going on.</remarks>
public sealed record HorseSpan(DateOnly From, DateOnly? To, SpanKind Kind, string Label);

/// <summary>One visit's mean of a measure.</summary>
/// <param name="On">The day, in the practice's time zone.</param>
/// <param name="Value">In the measure's unit.</param>
/// <param name="Sd">Standard deviation of that mean, same unit; drawn as ±1.96 times it.</param>
public sealed record VisitValue(DateOnly On, double Value, double Sd);

/// <summary>The trend's level on one day, in the measure's unit; the band is ±1.96 times <paramref name="Sd"/>.</summary>
public sealed record TrendPoint(DateOnly On, double Level, double Sd);

/// <summary>How far a measure may move from where it was when the saddle was set.</summary>
/// <param name="Since">The day of the baseline.</param>
/// <param name="Level">The level on that day, in the measure's unit.</param>
/// <param name="Allowance">The threshold either way, same unit, positive.</param>
public sealed record Baseline(DateOnly Since, double Level, double Allowance);

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

/// <summary>95 % of a normal distribution lies within this many standard deviations.</summary>
static class Interval
{
    public const double Of95 = 1.96;
}
