using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Tests.Charts;

namespace BackHistory.Benchmarks.Service;

/// <summary>The trend chart of a page and of a letter, against a bare line plot by the drawing library at the same size.</summary>
static class ChartBench
{
    private const string Baseline = "ScottPlot line plot of the same points and size";

    internal static IEnumerable<Figure> Run()
    {
        var size = ChartSize.Page;
        var series = Samples.OneSide.Series[0];
        var days = series.Trend.Select(p => (double)p.On.DayNumber).ToArray();
        var levels = series.Trend.Select(p => p.Level).ToArray();

        yield return new(
            $"chart: trend as PNG, {size.Width * 2}×{size.Height * 2} dots",
            Stopwatched.Milliseconds(() => TrendChart.Draw(Samples.OneSide, ChartTheme.Light, size).ToPng()),
            Baseline,
            Stopwatched.Milliseconds(() => Line(days, levels).GetImageBytes(size.Width * 2, size.Height * 2, ScottPlot.ImageFormat.Png)),
            "ms"
        );
        yield return new(
            $"chart: trend as SVG, {size.Width}×{size.Height}",
            Stopwatched.Milliseconds(() => TrendChart.Draw(Samples.OneSide, ChartTheme.Light, size).ToSvg()),
            Baseline,
            Stopwatched.Milliseconds(() => Line(days, levels).GetSvgXml(size.Width, size.Height)),
            "ms"
        );
    }

    private static ScottPlot.Plot Line(double[] xs, double[] ys)
    {
        var plot = new ScottPlot.Plot();
        plot.Add.ScatterLine(xs, ys);
        return plot;
    }
}
