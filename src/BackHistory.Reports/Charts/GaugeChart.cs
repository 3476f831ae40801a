using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>A workshop's gauge: its marks, the curve between them, and the proposed setting left and right.</summary>
public static class GaugeChart
{
    /// <exception cref="NotDrawableException">Fewer than two marks, or a value that cannot be drawn.</exception>
    public static Chart Draw(GaugeChartInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), 160),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static KeyEntry[] Key(GaugeChartInput input) =>
        [.. input.Proposal.Select(s => ChartFrame.SideKey(s.Side, $"{SideNames.In(s.Side, input.Language)} {s.Label}".Trim()))];

    static void Draw(GaugeChartInput input, ChartCanvas canvas)
    {
        var (language, theme) = (input.Language, canvas.Theme);
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var up = TrendWindow.Range([.. input.Marks.Select(m => m.Value), .. input.Proposal.Select(s => s.Value)]);
        var names = new ValuePlot.Names(language["gauge.mark-on-the-gauge"], null, "", input.Unit);
        var plot = new ValuePlot(
            canvas,
            new PixelRect(0, canvas.Width, canvas.Height - 8, top),
            (-0.5, input.Marks.Count - 0.5),
            up,
            names,
            language
        );
        Labels(plot, input.Marks);
        var marks = input.Marks.Select((m, i) => ((double)i, m.Value)).ToList();
        plot.Curve(input.Curve.Count > 1 ? input.Curve.Select(p => (p.X, p.Y)) : marks, theme.Thin(theme.Muted, 0.8), 1.8f);
        plot.Points(marks, theme.Muted, 8);
        foreach (var setting in input.Proposal)
        {
            plot.Curve(
                [(-0.5, setting.Value), (setting.Position, setting.Value), (setting.Position, up.Low)],
                theme.ColourOf(setting.Side),
                1.8f,
                Dash.DashFor(setting.Side)
            );
            plot.Points(
                [(setting.Position, setting.Value)],
                theme.ColourOf(setting.Side),
                12,
                setting.Side == SeriesSide.Right ? MarkerShape.FilledSquare : MarkerShape.FilledCircle
            );
        }
        plot.Render();
        foreach (var setting in input.Proposal)
        {
            var at = plot.At(setting.Position, setting.Value);
            canvas.Label(
                Words.WithUnit(language.Number(setting.Value, 1), input.Unit),
                plot.Data.Left + 4,
                input.Proposal.Any(s => s.Value < setting.Value) || input.Proposal.Count == 1 ? at.Y - 5 : at.Y + 15,
                12,
                theme.ChartCanvas,
                Weight.Semibold
            );
        }
    }

    static void Labels(ValuePlot plot, IReadOnlyList<GaugeScaleMark> marks)
    {
        var widest = marks.Max(m => Lettering.Width(Printable.Clean(m.Mark), PlotLook.TickSize)) + 10;
        var every = Math.Max(1, (int)Math.Ceiling(widest / (plot.Data.Width / marks.Count)));
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        for (var i = 0; i < marks.Count; i += every)
            ticks.AddMajor(i, Printable.Clean(marks[i].Mark));
        plot.Plot.Axes.Bottom.TickGenerator = ticks;
    }

    static string AltText(GaugeChartInput input)
    {
        var language = input.Language;
        var settings = input.Proposal.Select(s =>
            $"{SideNames.In(s.Side, language)} {s.Label}: {Words.WithUnit(language.Number(s.Value, 1), input.Unit)}".Trim()
        );
        var marks = string.Join(", ", input.Marks.Select(m => $"{m.Mark} = {Words.WithUnit(language.Number(m.Value, 1), input.Unit)}"));
        return $"{input.Finding} {input.Subject}: {marks}. {string.Join("; ", settings)}.";
    }
}
