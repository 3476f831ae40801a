using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>
/// A horse's condition for the veterinary view: several measures under each other on one time axis, with saddle work, work load, lay-offs
/// and illness.
/// </summary>
public static class ConditionChart
{
    const float NameSize = 12.5f;
    const float NameHeight = 22;

    /// <summary>A size in which every panel has room.</summary>
    public static ChartSize SizeFor(int panels, int width = 760) => new(width, 200 + 104 * panels);

    /// <exception cref="NotDrawableException">No panel, or a value that cannot be drawn.</exception>
    public static Chart Draw(ConditionChartInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        var body = 80 + 62 * input.Panels.Count + MarkLane.MostHigh(input.SaddleWork.Count + 1) + SpanLane.MostHigh(input.Spans.Count);
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), body),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static KeyEntry[] Key(ConditionChartInput input) =>
        input.Panels.Any(p => p.Series.Count > 1)
            ?
            [
                ChartFrame.SideKey(SeriesSide.Left, input.Language["condition.left"]),
                ChartFrame.SideKey(SeriesSide.Right, input.Language["condition.right"]),
            ]
            : [];

    static void Draw(ConditionChartInput input, ChartCanvas canvas)
    {
        var language = input.Language;
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var bottom = ChartFrame.Note(canvas, language["condition.bars-and-bands-95"]);
        var days = input.Panels.SelectMany(p => p.Series).SelectMany(s => s.Visits.Select(v => v.On)).Append(input.Today).ToList();
        var (from, to) = TrendWindow.Days(days.Min(), days.Max());
        var scale = new TimeScale(from, to, ChartFrame.Margin + Gutter(input), canvas.Width - ChartFrame.Margin);
        var window = new TrendWindow(from, to, 0, 1);
        var marks = MarkLane.Lay(Marks(input), window, scale, language);
        var spans = SpanLane.Lay(input.Spans, window, scale);
        top += marks.Height;
        var all = new PixelRect(scale.Left, scale.Right, bottom - 24 - spans.Height, top);
        var height = (all.Bottom - all.Top) / input.Panels.Count;
        for (var i = 0; i < input.Panels.Count; i++)
        {
            var place = new PixelRect(0, canvas.Width, top + (i + 1) * height, top + i * height);
            Panel(input, input.Panels[i], canvas, place, scale, marks, spans, i == input.Panels.Count - 1 ? 24 + spans.Height : 0);
        }
        spans.Bars(canvas, all);
        marks.Labels(canvas, all);
        ShowParting(input, canvas, scale, all);
    }

    /// <summary>All panels share the widest scale's gutter, so that days stand under days.</summary>
    static float Gutter(ConditionChartInput input) =>
        input.Panels.Max(panel =>
        {
            var (low, high) = Range(panel, input.Today);
            return PlotLook.ValueAxis(PlotLook.New(ChartTheme.Light), low, high, panel.Unit, input.Language, 80);
        });

    static (double Low, double High) Range(ConditionPanel panel, DateOnly today)
    {
        var values = panel
            .Series.SelectMany(s =>
                s.Visits.SelectMany(v => new[] { v.Value - Interval.Of95 * v.Sd, v.Value + Interval.Of95 * v.Sd })
                    .Concat(s.Trend.Where(p => p.On <= today).Select(p => p.Level))
            )
            .ToList();
        return values.Count == 0 ? (0, 1) : TrendWindow.Range(values);
    }

    static void Panel(
        ConditionChartInput input,
        ConditionPanel panel,
        ChartCanvas canvas,
        PixelRect place,
        TimeScale scale,
        MarkLane marks,
        SpanLane spans,
        float foot
    )
    {
        var plot = PlotLook.New(canvas.Theme);
        var (low, high) = Range(panel, input.Today);
        PlotLook.ValueAxis(plot, low, high, panel.Unit, input.Language, 80);
        PlotLook.TimeAxis(plot, scale, input.Language);
        plot.Axes.Bottom.TickLabelStyle.IsVisible = foot > 0;
        plot.Axes.Bottom.TickLabelStyle.OffsetY = foot - 24;
        plot.Layout.Fixed(new PixelPadding(scale.Left, canvas.Width - scale.Right, foot, NameHeight));
        spans.Shade(plot, canvas.Theme);
        marks.Lines(plot, canvas.Theme);
        var pixel = (scale.To.DayNumber - scale.From.DayNumber) / (double)(scale.Right - scale.Left);
        for (var i = 0; i < panel.Series.Count; i++)
        {
            var known = panel.Series[i] with { Trend = [.. panel.Series[i].Trend.Where(p => p.On <= input.Today)] };
            TrendLayers.Trend(plot, known, input.Today, canvas);
            TrendLayers.Visits(plot, known, canvas.Theme, panel.Series.Count == 1 ? 0 : (2 * i - 1) * 2 * pixel);
        }
        canvas.Plot(plot, new PixelRect(place.Left, place.Right, place.Bottom + foot, place.Top));
        // The lines of saddle work run through from panel to panel.
        canvas.Label(panel.Name, scale.Left + 4, place.Top + NameHeight - 6, NameSize, canvas.Theme.ChartCanvas, Weight.Semibold);
    }

    static void ShowParting(ConditionChartInput input, ChartCanvas canvas, TimeScale scale, PixelRect all)
    {
        if (input.Parting is not { } parting)
            return;
        var (from, on, to) = (
            scale.X(Max(parting.From, scale.From)),
            scale.X(parting.On),
            scale.X(parting.To > scale.To ? scale.To : parting.To)
        );
        canvas.Fill(new PixelRect(from, to, all.Bottom, all.Top), canvas.Theme.Threshold, 0.10);
        canvas.Line(on, all.Top, on, all.Bottom, canvas.Theme.Threshold, 1.8f, Dash.Mirrored);
    }

    static IReadOnlyList<SaddleMark> Marks(ConditionChartInput input) =>
        input.Parting is { } parting ? [.. input.SaddleWork, new SaddleMark(parting.On, parting.Label)] : input.SaddleWork;

    static DateOnly Max(DateOnly a, DateOnly b) => a > b ? a : b;

    static string AltText(ConditionChartInput input)
    {
        var language = input.Language;
        var panels = input.Panels.Select(panel =>
            $"{panel.Name}: " + string.Join(", ", panel.Series.Select(series => Change(series, panel, language))) + "."
        );
        var parting = input.Parting is { } p
            ? $"{p.Label} {language.Date(p.On)} ({language.Date(p.From)} {language["condition.to"]} {language.Date(p.To)})."
            : "";
        return string.Join(' ', new[] { input.Finding, $"{input.Subject}." }.Concat(panels).Append(parting).Where(s => s.Length > 0));
    }

    static string Change(TrendSeries series, ConditionPanel panel, ReportLanguage language)
    {
        var side = SideNames.In(series.Side, language);
        if (series.Visits.Count == 0)
            return $"{side} {language["condition.not-measured"]}".Trim();
        var (first, last) = (series.Visits.MinBy(v => v.On)!, series.Visits.MaxBy(v => v.On)!);
        string Value(double value) => Words.WithUnit(language.Number(value, panel.Decimals), panel.Unit);
        return first == last
            ? $"{side} {Value(last.Value)} {language["condition.on"]} {language.Date(last.On)}".Trim()
            : (
                $"{side} {language["condition.from"]} {Value(first.Value)} ({language.Date(first.On)}) "
                + $"{language["condition.to1"]} {Value(last.Value)} ({language.Date(last.On)})"
            ).Trim();
    }
}
