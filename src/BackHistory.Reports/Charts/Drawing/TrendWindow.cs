using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>The days and values that a trend chart spans.</summary>
internal sealed record TrendWindow(DateOnly From, DateOnly To, double Low, double High)
{
    public static TrendWindow Of(TrendChartInput input)
    {
        var days = input.Series.SelectMany(s => s.Visits.Select(v => v.On).Concat(s.Trend.Select(p => p.On))).Append(input.Today).ToList();
        var (from, to) = Days(days.Min(), days.Max());
        var values = input.Series.SelectMany(s => Values(s, input.Today)).ToList();
        var (low, high) = Range(values);
        return new(from, to, low, high);
    }

    public float Y(double value, PixelRect data) => (float)(data.Bottom - (value - Low) / (High - Low) * (data.Bottom - data.Top));

    /// <summary>A little air on both sides; a single day gets two months.</summary>
    public static (DateOnly From, DateOnly To) Days(DateOnly first, DateOnly last)
    {
        var air = Math.Max((last.DayNumber - first.DayNumber) / 30, first == last ? 30 : 2);
        return (DateOnly.FromDayNumber(Math.Max(0, first.DayNumber - air)), DateOnly.FromDayNumber(Math.Min(DateOnly.MaxValue.DayNumber, last.DayNumber + air)));
    }

    public static (double Low, double High) Range(IReadOnlyCollection<double> values)
    {
        var (low, high) = (values.Min(), values.Max());
        var air = high > low ? (high - low) * 0.07 : Math.Max(1, Math.Abs(high) * 0.1);
        return (low - air, high + air);
    }

    /// <summary>The forecast's band may grow without limit; only its level counts for the range, the band is cut at the edge.</summary>
    static IEnumerable<double> Values(TrendSeries series, DateOnly today)
    {
        foreach (var visit in series.Visits)
        {
            yield return visit.Value - Interval.Of95 * visit.Sd;
            yield return visit.Value + Interval.Of95 * visit.Sd;
        }
        foreach (var point in series.Trend)
        {
            var reach = point.On <= today ? Interval.Of95 * point.Sd : 0;
            yield return point.Level - reach;
            yield return point.Level + reach;
        }
        if (series.Baseline is { } baseline)
        {
            // Room for the label on the far side of the line.
            yield return baseline.Level - baseline.Allowance * 1.25;
            yield return baseline.Level + baseline.Allowance * 1.25;
        }
    }
}

/// <summary>Days to pixels, the same line as the plot's own axis.</summary>
internal sealed record TimeScale(DateOnly From, DateOnly To, float Left, float Right)
{
    public float X(DateOnly day) => Left + (Right - Left) * (day.DayNumber - From.DayNumber) / Math.Max(1, To.DayNumber - From.DayNumber);
}
