using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>
/// The words at the threshold lines. They stand where the lines begin: on the day of the baseline the measure is at the baseline, so that
/// there, if anywhere, the thresholds are clear of it.
/// </summary>
internal static class ThresholdLabels
{
    const float Size = 12;

    public static void Draw(ChartCanvas canvas, TrendChartInput input, TrendWindow window, TimeScale scale, PixelRect data)
    {
        var taken = new List<PixelRect>();
        foreach (var series in input.Series.Where(s => s.Baseline is not null))
        {
            var baseline = series.Baseline!;
            var side = input.Series.Count > 1 ? SideNames.In(series.Side, input.Language) : "";
            foreach (var sign in new[] { 1, -1 })
            {
                var text = Text(input, IsShort(canvas, input), side, baseline.Level + sign * baseline.Allowance, sign * baseline.Allowance);
                var y = window.Y(baseline.Level + sign * baseline.Allowance, data) + (sign > 0 ? -6 : 14);
                Place(canvas, text, y, scale.X(baseline.Since) + 7, data, taken);
            }
            if (input.Series.Count == 1)
                Set(canvas, input, baseline, window.Y(baseline.Level, data) + 14, data);
        }
    }

    static void Place(ChartCanvas canvas, string text, float y, float start, PixelRect data, List<PixelRect> taken)
    {
        var width = Lettering.Width(text, Size);
        var left = Math.Min(start, data.Right - width - 4);
        var spot = new PixelRect(left, left + width, y + 3, y - Size);
        if (taken.Any(t => Overlap(t, spot)))
        {
            left = data.Right - width - 4;
            spot = new PixelRect(left, left + width, y + 3, y - Size);
        }
        taken.Add(spot);
        canvas.Label(text, left, y, Size, canvas.Theme.ChartCanvas);
    }

    static bool Overlap(PixelRect a, PixelRect b) => a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom;

    /// <summary>The level that the saddle was set to, where its line ends, if there is room beside the words at its start.</summary>
    static void Set(ChartCanvas canvas, TrendChartInput input, BaselineBand baseline, float y, PixelRect data) =>
        canvas.Label(
            $"{input.Language["threshold-labels.as-set"]} "
                + $"{Words.WithUnit(input.Language.Number(baseline.Level, input.Decimals), input.Unit)}",
            data.Right - 4,
            y,
            Size,
            canvas.Theme.Muted,
            Weight.Regular,
            Align.End
        );

    /// <summary>Two sides on a narrow picture: the word stands in the note instead of four times in the plot.</summary>
    public static bool IsShort(ChartCanvas canvas, TrendChartInput input) =>
        canvas.Width < 480 && input.Series.Count(s => s.Baseline is not null) > 1;

    static string Text(TrendChartInput input, bool isShort, string side, double level, double change) =>
        string.Join(
            ' ',
            new[]
            {
                isShort ? "" : input.Language["threshold-labels.threshold"],
                side,
                Words.WithUnit(input.Language.Number(level, input.Decimals), input.Unit),
                $"({input.Language.Change(change, input.Decimals)})",
            }.Where(part => part.Length > 0)
        );
}
