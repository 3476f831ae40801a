using BackHistory.Reports.Charts.Content;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>The layers of one measure over time, from the threshold at the back to the visits in front.</summary>
internal static class TrendLayers
{
    public static void Thresholds(Plot plot, TrendSeries series, TrendWindow window, ChartCanvas canvas, bool tint)
    {
        if (series.Baseline is not { } baseline)
            return;
        var theme = canvas.Theme;
        var (from, to) = ((double)baseline.Since.DayNumber, (double)window.To.DayNumber);
        var colour = series.Side == SeriesSide.Whole ? theme.Threshold : theme.ColourOf(series.Side);
        foreach (var sign in new[] { -1, 1 })
        {
            var level = baseline.Level + sign * baseline.Allowance;
            if (tint)
            {
                var beyond = plot.Add.Rectangle(from, to, level, sign > 0 ? Math.Max(level, window.High) : Math.Min(level, window.Low));
                beyond.FillStyle.Color = Colours.Clear(theme.Threshold, 0.07);
                beyond.LineStyle.Width = 0;
            }
            var line = Segment(plot, from, to, level, colour, 1.8f);
            Dash.Threshold.Apply(line.LineStyle, canvas.Vector);
        }
        Segment(plot, from, to, baseline.Level, theme.Thin(theme.ChartCanvas, 0.5), 1);
    }

    static ScottPlot.Plottables.LinePlot Segment(Plot plot, double from, double to, double level, string colour, float width)
    {
        var line = plot.Add.Line(from, level, to, level);
        (line.LineWidth, line.LineColor, line.MarkerSize) = (width, Colours.Plain(colour), 0);
        return line;
    }

    public static void Trend(Plot plot, TrendSeries series, DateOnly today, ChartCanvas canvas)
    {
        var theme = canvas.Theme;
        var points = series.Trend.OrderBy(p => p.On).ToList();
        var past = points.Where(p => p.On <= today).ToList();
        var future = points.Where(p => p.On > today).ToList();
        if (future.Count > 0 && past.Count > 0)
            future.Insert(0, past[^1]);
        var colour = theme.ColourOf(series.Side);
        Stretch(plot, past, colour, theme.BandStrength, 2.6f, canvas, series.Side);
        Stretch(plot, future, theme.Earlier(colour), theme.BandStrength * 0.55, 2f, canvas, series.Side);
    }

    static void Stretch(Plot plot, List<TrendPoint> points, string colour, double band, float width, ChartCanvas canvas, SeriesSide side)
    {
        if (points.Count < 2)
            return;
        var days = points.Select(p => (double)p.On.DayNumber).ToArray();
        var fill = plot.Add.FillY(
            days,
            [.. points.Select(p => p.Level - Interval.Of95 * p.Sd)],
            [.. points.Select(p => p.Level + Interval.Of95 * p.Sd)]
        );
        (fill.FillColor, fill.LineWidth, fill.MarkerSize) = (Colours.Clear(colour, band), 0, 0);
        var line = plot.Add.ScatterLine(days, [.. points.Select(p => p.Level)], Colours.Plain(colour));
        line.LineWidth = width;
        Dash.DashFor(side)?.Apply(line.LineStyle, canvas.Vector);
    }

    /// <param name="step">Two sides are measured on the same day: each steps aside by this many days, so that neither hides the
    /// other.</param>
    public static void Visits(Plot plot, TrendSeries series, ChartTheme theme, double step)
    {
        if (series.Visits.Count == 0)
            return;
        var colour = Colours.Plain(theme.ColourOf(series.Side));
        var days = series.Visits.Select(v => v.On.DayNumber + step).ToArray();
        double[] values = [.. series.Visits.Select(v => v.Value)];
        var bars = plot.Add.ErrorBar(days, values, [.. series.Visits.Select(v => Interval.Of95 * v.Sd)]);
        (bars.Color, bars.LineWidth, bars.CapSize) = (colour.WithAlpha(0.6), 1.4f, 0);
        var marks = plot.Add.ScatterPoints(days, values, colour);
        var right = series.Side == SeriesSide.Right;
        marks.MarkerStyle = new MarkerStyle(right ? MarkerShape.FilledSquare : MarkerShape.FilledCircle, right ? 7.5f : 8.5f, colour)
        {
            OutlineColor = Colours.Plain(theme.Background),
            OutlineWidth = 1.5f,
        };
    }
}
