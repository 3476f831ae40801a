using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Difference against mean of paired readings, with bias and 95 % limits of agreement.</summary>
public static class BlandAltmanChart
{
    /// <exception cref="NotDrawableException">No pair, or a value that cannot be drawn.</exception>
    public static Chart Draw(BlandAltmanInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, [], 220),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static void Draw(BlandAltmanInput input, ChartCanvas canvas)
    {
        var (language, theme) = (input.Language, canvas.Theme);
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, []);
        var points = input.Pairs.Select(p => (X: (p.First + p.Second) / 2, Y: p.First - p.Second)).ToList();
        var across = TrendWindow.Range([.. points.Select(p => p.X)]);
        var up = TrendWindow.Range([.. points.Select(p => p.Y), 0, input.LowerLimit, input.UpperLimit]);
        // Room above and below the limits for their words.
        up = (up.Low - (up.High - up.Low) * 0.06, up.High + (up.High - up.Low) * 0.06);
        var names = new ValuePlot.Names(
            language["bland-altman.mean-of-the-two"],
            input.Unit,
            language["bland-altman.difference-first-second"],
            input.Unit
        );
        var plot = new ValuePlot(canvas, new PixelRect(0, canvas.Width, canvas.Height - 8, top), across, up, names, language);
        var between = plot.Plot.Add.VerticalSpan(input.LowerLimit, input.UpperLimit, Colours.Clear(theme.Whole, 0.09));
        between.LineStyle.Width = 0;
        plot.Level(0, theme.Thin(theme.Muted, 0.6), 1);
        plot.Level(input.Bias, theme.Whole, 2.2f);
        plot.Level(input.UpperLimit, theme.Threshold, 1.8f, Dash.Threshold);
        plot.Level(input.LowerLimit, theme.Threshold, 1.8f, Dash.Threshold);
        plot.Points(points, theme.Whole, 8.5f);
        plot.Render();
        void Say(string words, double y, bool above, Weight weight = Weight.Regular) =>
            canvas.Label(
                $"{words} {Words.WithUnit(language.Change(y, input.Decimals), input.Unit)}",
                plot.Data.Right - 4,
                plot.At(0, y).Y + (above ? -6 : 15),
                12,
                theme.ChartCanvas,
                weight,
                Align.End
            );
        Say(language["bland-altman.95-limit"], input.UpperLimit, above: true);
        Say(language["bland-altman.bias"], input.Bias, above: input.Bias >= 0, Weight.Semibold);
        Say(language["bland-altman.95-limit"], input.LowerLimit, above: false);
    }

    static string AltText(BlandAltmanInput input)
    {
        var language = input.Language;
        string Value(double value) => Words.WithUnit(language.Change(value, input.Decimals), input.Unit);
        return language[
            "bland-altman.pairs-bias-95-limits",
            input.Finding,
            input.Subject,
            input.Pairs.Count,
            Value(input.Bias),
            Value(input.LowerLimit),
            Value(input.UpperLimit)
        ];
    }
}
