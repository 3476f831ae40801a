using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>
/// One measure over time: visits with 95 % error bars, the trend with its 95 % band, saddle work, thresholds around the baseline, and
/// what explains a change.
/// </summary>
public static class TrendChart
{
    /// <exception cref="NotDrawableException">No series, more than two, or a value that cannot be drawn.</exception>
    public static Chart Draw(TrendChartInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        // A plot of 130 px, the dates, the note, and a row for each mark and span at most.
        var body = 200 + MarkLane.MostHigh(input.SaddleWork.Count + 1) + SpanLane.MostHigh(input.Spans.Count);
        var room = ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), body);
        return new Chart(room, theme, input.Finding, TrendAltText.Describe(input), canvas => Draw(input, canvas));
    }

    static KeyEntry[] Key(TrendChartInput input) =>
        input.Series.Count > 1 ? [.. input.Series.Select(s => ChartFrame.SideKey(s.Side, SideNames.In(s.Side, input.Language)))] : [];

    static void Draw(TrendChartInput input, ChartCanvas canvas)
    {
        var language = input.Language;
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        if (input.Series.All(s => s.Visits.Count == 0))
        {
            ChartFrame.Empty(canvas, new PixelRect(0, canvas.Width, canvas.Height, top), language["trend.no-visit-on-record"]);
            return;
        }
        var forecast = input.Series.Any(s => s.Trend.Any(p => p.On > input.Today));
        var isShort = ThresholdLabels.IsShort(canvas, input);
        var bottom = ChartFrame.Note(
            canvas,
            language["trend.bars-and-band"]
                + (forecast ? language["trend.paler-forecast"] : "")
                + (isShort ? language["trend.dotted-thresholds"] : "")
        );
        var window = TrendWindow.For(input);
        DrawPlot(input, canvas, window, new PixelRect(0, canvas.Width, bottom, top));
    }

    static void DrawPlot(TrendChartInput input, ChartCanvas canvas, TrendWindow window, PixelRect place)
    {
        var language = input.Language;
        var plot = PlotLook.New(canvas.Theme);
        var left = ChartFrame.Margin + PlotLook.ValueAxis(plot, window.Low, window.High, input.Unit, language, place.Height - 70);
        var right = canvas.Width - ChartFrame.Margin;
        var scale = new TimeScale(window.From, window.To, left, right);
        PlotLook.TimeAxis(plot, scale, language);
        var marks = MarkLane.Lay(Marks(input, window), window, scale, language);
        var spans = SpanLane.Lay(input.Spans, window, scale);
        var data = new PixelRect(left, right, place.Bottom - 24 - spans.Height, place.Top + marks.Height);
        plot.Layout.Fixed(new PixelPadding(data.Left, canvas.Width - data.Right, place.Bottom - data.Bottom, data.Top - place.Top));

        spans.Shade(plot, canvas.Theme);
        foreach (var series in input.Series)
            TrendLayers.Thresholds(plot, series, window, canvas, tint: input.Series.Count == 1);
        marks.Lines(plot, canvas.Theme);
        foreach (var series in input.Series)
            TrendLayers.Trend(plot, series, input.Today, canvas);
        var pixel = (window.To.DayNumber - window.From.DayNumber) / (double)(right - left);
        for (var i = 0; i < input.Series.Count; i++)
            TrendLayers.Visits(plot, input.Series[i], canvas.Theme, input.Series.Count == 1 ? 0 : (2 * i - 1) * 2 * pixel);
        // The lane of spans lies between the data and the dates.
        plot.Axes.Bottom.TickLabelStyle.OffsetY = spans.Height;
        canvas.Plot(plot, place);

        spans.Bars(canvas, data);
        marks.Labels(canvas, data);
        ThresholdLabels.Draw(canvas, input, window, scale, data);
        foreach (var series in input.Series)
            Spots(input, series, canvas, window, scale, data);
    }

    /// <summary>The visits where a page can point at them.</summary>
    static void Spots(TrendChartInput input, TrendSeries series, ChartCanvas canvas, TrendWindow window, TimeScale scale, PixelRect data)
    {
        foreach (var visit in series.Visits.OrderBy(v => v.On))
        {
            var value = Words.WithUnit(input.Language.Number(visit.Value, input.Decimals), input.Unit);
            var words =
                $"{input.Language.Date(visit.On)}: {SideNames.In(series.Side, input.Language)} {value} ± "
                + $"{input.Language.Number(visit.Sd, input.Decimals)}";
            canvas.Spots.Add(
                new(
                    scale.X(visit.On),
                    window.Y(visit.Value, data),
                    visit.On,
                    series.Side,
                    visit.Value,
                    visit.Sd,
                    words.Replace("  ", " ", StringComparison.Ordinal)
                )
            );
        }
    }

    /// <summary>Today is a mark like the others, unless it is the picture's edge anyway.</summary>
    static IReadOnlyList<SaddleMark> Marks(TrendChartInput input, TrendWindow window) =>
        window.To.DayNumber - input.Today.DayNumber > (window.To.DayNumber - window.From.DayNumber) * 0.06
            ? [.. input.SaddleWork, new SaddleMark(input.Today, input.Language["trend.today"])]
            : input.SaddleWork;
}
