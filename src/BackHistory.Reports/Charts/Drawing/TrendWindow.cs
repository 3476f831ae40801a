using BackHistory.Reports.Charts.Content;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>The days and values that a trend chart spans.</summary>
internal sealed record TrendWindow(DateOnly From, DateOnly To, double Low, double High)
{
    public static TrendWindow For(TrendChartInput input)
    {
        var days = input.Series.SelectMany(s => s.Visits.Select(v => v.On).Concat(s.Trend.Select(p => p.On))).Append(input.Today).ToList();
        var (from, to) = Days(days.Min(), days.Max());
        var (low, high) = Range([.. input.Series.SelectMany(Values)]);
        return new(from, to, low, high);
    }

    public float Y(double value, PixelRect data) => (float)(data.Bottom - (value - Low) / (High - Low) * (data.Bottom - data.Top));

    /// <summary>A little air on both sides; a single day gets two months.</summary>
    public static (DateOnly From, DateOnly To) Days(DateOnly first, DateOnly last)
    {
        var air = Math.Max((last.DayNumber - first.DayNumber) / 30, first == last ? 30 : 2);
        return (
            DateOnly.FromDayNumber(Math.Max(0, first.DayNumber - air)),
            DateOnly.FromDayNumber(Math.Min(DateOnly.MaxValue.DayNumber, last.DayNumber + air))
        );
    }

    public static (double Low, double High) Range(IReadOnlyCollection<double> values)
    {
        var (low, high) = (values.Min(), values.Max());
        var air = high > low ? (high - low) * 0.07 : Math.Max(1, Math.Abs(high) * 0.1);
        return (low - air, high + air);
    }

    /// <summary>
    /// Visits and thresholds, and the trend between the visits as far as it stays near them. What is only foretold, and the growing
    /// ignorance after the last visit, may leave the picture: after a jump they would press everything that is known into a line.
    /// </summary>
    static IEnumerable<double> Values(TrendSeries series)
    {
        var core = Core(series).ToList();
        if (core.Count == 0 || series.Visits.Count == 0)
            return [.. core, .. series.Trend.Select(p => p.Level)];
        var last = series.Visits.Max(v => v.On);
        var (low, high) = (core.Min(), core.Max());
        var air = (high - low) / 3;
        return
        [
            .. core,
            .. series
                .Trend.Where(p => p.On <= last)
                .SelectMany(p => (double[])[p.Level - Interval.Of95 * p.Sd, p.Level + Interval.Of95 * p.Sd])
                .Select(v => Math.Clamp(v, low - air, high + air)),
        ];
    }

    static IEnumerable<double> Core(TrendSeries series)
    {
        foreach (var visit in series.Visits)
        {
            yield return visit.Value - Interval.Of95 * visit.Sd;
            yield return visit.Value + Interval.Of95 * visit.Sd;
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
