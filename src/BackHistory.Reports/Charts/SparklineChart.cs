using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>The small chart in a row of the caseload: band, line, threshold and the last visit; no words. Its SVG stays under 3
/// kB.</summary>
public static class SparklineChart
{
    /// <summary>Fits a row of 44 px.</summary>
    public static ChartSize Size { get; } = new(132, 36);

    const int MostPoints = 24;

    /// <exception cref="NotDrawableException">A value that cannot be drawn.</exception>
    public static Chart Draw(SparklineInput input, ChartTheme theme, ChartSize size)
    {
        input.Series.Check();
        return new Chart(size, theme, input.Measure, AltText(input), canvas => Draw(input, canvas));
    }

    static void Draw(SparklineInput input, ChartCanvas canvas)
    {
        var series = input.Series with { Trend = Thinned(input.Series.Trend, input.Today), Visits = Last(input.Series.Visits) };
        if (series.Visits.Count == 0)
            return;
        var days = series.Trend.Select(p => p.On).Concat(series.Visits.Select(v => v.On)).ToList();
        var (low, high) = TrendWindow.Range([
            .. series.Trend.SelectMany(p => new[] { p.Level - Interval.Of95 * p.Sd, p.Level + Interval.Of95 * p.Sd }),
            .. series.Visits.Select(v => v.Value),
            .. Thresholds(series),
        ]);
        var plot = PlotLook.New(canvas.Theme);
        plot.HideAxesAndGrid();
        plot.Layout.Fixed(new PixelPadding(0));
        // Room for half of the last visit's dot.
        var air = Math.Max(1, (days.Max().DayNumber - days.Min().DayNumber) * 4.0 / canvas.Width);
        plot.Axes.SetLimits(days.Min().DayNumber - air, days.Max().DayNumber + air, low, high);
        foreach (var level in Thresholds(series))
        {
            var line = plot.Add.HorizontalLine(level, 1.2f, Colours.Plain(canvas.Theme.Threshold));
            Dash.Threshold.Apply(line.LineStyle, canvas.Vector);
        }
        TrendLayers.Trend(plot, series, input.Today, canvas);
        TrendLayers.Visits(plot, series with { Visits = [series.Visits[0] with { Sd = 0 }] }, canvas.Theme, 0);
        canvas.Plot(plot, new PixelRect(0, canvas.Width, canvas.Height, 0));
    }

    static IEnumerable<double> Thresholds(TrendSeries series) =>
        series.Baseline is { } b ? [b.Level - b.Allowance, b.Level + b.Allowance] : [];

    static IReadOnlyList<VisitValue> Last(IReadOnlyList<VisitValue> visits) => visits.Count == 0 ? [] : [visits.MaxBy(v => v.On)!];

    /// <summary>What is known, without the forecast, in few points; the first and the last stay.</summary>
    static IReadOnlyList<TrendPoint> Thinned(IReadOnlyList<TrendPoint> trend, DateOnly today)
    {
        var known = trend.Where(p => p.On <= today).OrderBy(p => p.On).ToList();
        return known.Count <= MostPoints
            ? known
            : [.. Enumerable.Range(0, MostPoints).Select(i => known[i * (known.Count - 1) / (MostPoints - 1)])];
    }

    static string AltText(SparklineInput input)
    {
        var language = input.Language;
        if (Last(input.Series.Visits) is not [var last])
            return $"{input.Measure}: {language["sparkline.no-visit"]}";
        string Value(double value) => Words.WithUnit(language.Number(value, input.Decimals), input.Unit);
        var baseline = input.Series.Baseline is { } b
            ? $", {language["sparkline.as-set"]} {Value(b.Level)}, {language["trend-alt-text.threshold"]} {Value(b.Allowance)}"
            : "";
        return $"{input.Measure}: {Value(last.Value)} {language["sparkline.on"]} {language.Date(last.On)}{baseline}.";
    }
}
