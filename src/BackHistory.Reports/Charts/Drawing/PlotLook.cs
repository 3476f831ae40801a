using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Fonts;
using ScottPlot;
using ScottPlot.Rendering.RenderActions;
using ScottPlot.TickGenerators;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>The look of every plot: no frame, faint grid, quiet labels.</summary>
internal static class PlotLook
{
    public const float TickSize = 12;

    public static Plot New(ChartTheme theme)
    {
        var plot = new Plot();
        // Several plots share a canvas: a plot must not wipe what stands there already.
        plot.RenderManager.RenderActions.RemoveAll(a => a is ClearCanvas or RenderFigureBackground or RenderBenchmark);
        plot.DataBackground.Color = Colors.Transparent;
        plot.Font.Set(ReportFonts.Family);
        plot.Grid.MajorLineColor = Colours.Plain(theme.Grid);
        plot.Grid.XAxisStyle.IsVisible = false;
        plot.Axes.Margins(0, 0);
        foreach (var axis in plot.Axes.GetAxes())
        {
            axis.FrameLineStyle.Width = 0;
            axis.MajorTickStyle.Length = 0;
            axis.MinorTickStyle.Length = 0;
            axis.TickLabelStyle.FontSize = TickSize;
            axis.TickLabelStyle.FontName = ReportFonts.Family;
            axis.TickLabelStyle.ForeColor = Colours.Plain(theme.Muted);
        }
        plot.Axes.Bottom.FrameLineStyle.Width = 1;
        plot.Axes.Bottom.FrameLineStyle.Color = Colours.Plain(theme.Thin(theme.Muted, 0.7));
        plot.Axes.Bottom.MajorTickStyle.Length = 4;
        plot.Axes.Bottom.MajorTickStyle.Color = Colours.Plain(theme.Thin(theme.Muted, 0.7));
        return plot;
    }

    /// <summary>Sets the range and labels of the vertical axis; the topmost label carries the unit. Returns the width that the labels
    /// need.</summary>
    public static float ValueAxis(Plot plot, double low, double high, string unit, ReportLanguage language, float height)
    {
        plot.Axes.SetLimitsY(low, high);
        var (values, decimals) = Ticks.Values(low, high, Math.Max(2, (int)(height / 48)));
        var labels = values.Select(v => language.Number(v, decimals)).ToArray();
        if (labels.Length > 0)
            labels[^1] = Words.WithUnit(labels[^1], unit);
        plot.Axes.Left.TickGenerator = new NumericManual(values, labels);
        return labels.Length == 0 ? 0 : labels.Max(l => Lettering.Width(l, TickSize)) + 8;
    }

    /// <summary>Sets the range of the time axis and its labels, leaving out those that would run out of the picture.</summary>
    public static void TimeAxis(Plot plot, TimeScale scale, ReportLanguage language)
    {
        plot.Axes.SetLimitsX(scale.From.DayNumber, scale.To.DayNumber);
        var days = Ticks.Months(scale.From, scale.To, (int)((scale.Right - scale.Left) / 74));
        var labelled = days.Select(d => (Day: (double)d.DayNumber, Text: $"{language.Month(d.Month)} {d.Year:0000}", X: scale.X(d)))
            .Where(t => Fits(t.X, t.Text))
            .ToList();
        plot.Axes.Bottom.TickGenerator = new NumericManual([.. labelled.Select(t => t.Day)], [.. labelled.Select(t => t.Text)]);

        bool Fits(float x, string text)
        {
            var half = Lettering.Width(text, TickSize) / 2;
            return x - half >= ChartFrame.Margin / 2 && x + half <= scale.Right + ChartFrame.Margin / 2;
        }
    }
}
