using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Refits per month: bars, with a whisker for the interval of those still to come.</summary>
public static class RefitForecastChart
{
    /// <exception cref="NotDrawableException">No month, or a value that cannot be drawn.</exception>
    public static Chart Draw(RefitForecastInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input.Language), 200),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static KeyEntry[] Key(ReportLanguage language) =>
        [
            new(language["refit-forecast.done"], (pen, x, y) => pen.Fill(new PixelRect(x + 8, x + 22, y + 6, y - 6), pen.Theme.Whole)),
            new(
                language["refit-forecast.expected-with-80-interval"],
                (pen, x, y) =>
                {
                    pen.Fill(new PixelRect(x + 8, x + 22, y + 6, y - 6), pen.Theme.Thin(pen.Theme.Whole, 0.4));
                    pen.Line(x + 15, y - 9, x + 15, y + 3, pen.Theme.ChartCanvas, 1.6f);
                }
            ),
        ];

    static void Draw(RefitForecastInput input, ChartCanvas canvas)
    {
        var (language, theme) = (input.Language, canvas.Theme);
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(language));
        var months = input.Months.OrderBy(m => m.Month).ToList();
        var most = Math.Max(1, months.Max(m => Math.Max(m.Refits, m.High)));
        var names = new ValuePlot.Names("", null, language["refit-forecast.refits-a-month"], "");
        var plot = new ValuePlot(
            canvas,
            new PixelRect(0, canvas.Width, canvas.Height - 8, top),
            (-0.6, months.Count - 0.4),
            (0, most * 1.12),
            names,
            language
        );
        for (var i = 0; i < months.Count; i++)
            Bar(plot, months[i], i, theme);
        Labels(plot, months, language);
        plot.Render();
        for (var i = 0; i < months.Count; i++)
        {
            var above = plot.At(i, Math.Max(months[i].Refits, months[i].IsForecast ? months[i].High : 0)).Y - 5;
            if (plot.Data.Width / months.Count > 26)
                canvas.Label(
                    language.Number(months[i].Refits, 0),
                    plot.At(i, 0).X,
                    above,
                    12,
                    theme.ChartCanvas,
                    Weight.Semibold,
                    Align.Middle
                );
        }
    }

    static void Bar(ValuePlot plot, RefitMonth month, int at, ChartTheme theme)
    {
        var bar = plot.Plot.Add.Rectangle(at - 0.34, at + 0.34, 0, month.Refits);
        bar.FillStyle.Color = Colours.Plain(month.IsForecast ? theme.Thin(theme.Whole, 0.4) : theme.Whole);
        bar.LineStyle.Width = 0;
        if (month.IsForecast)
            plot.Curve([(at, month.Low), (at, month.High)], theme.ChartCanvas, 1.6f);
    }

    /// <summary>Month names, every second or third where they would touch; the year under its first.</summary>
    static void Labels(ValuePlot plot, List<RefitMonth> months, ReportLanguage language)
    {
        var every = (int)Math.Ceiling(34 / (plot.Data.Width / months.Count));
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        for (var i = 0; i < months.Count; i += every)
        {
            var year = i == 0 || months[i].Month.Year != months[i - every].Month.Year ? $"\n{months[i].Month.Year:0000}" : "";
            ticks.AddMajor(i, language.Month(months[i].Month.Month) + year);
        }
        plot.Plot.Axes.Bottom.TickGenerator = ticks;
    }

    static string AltText(RefitForecastInput input)
    {
        var language = input.Language;
        var coming = input
            .Months.Where(m => m.IsForecast)
            .OrderBy(m => m.Month)
            .Select(m =>
                $"{language.Month(m.Month.Month)} {m.Month.Year:0000}: {language.Number(m.Refits, 0)} "
                + $"({language.Number(m.Low, 0)}–{language.Number(m.High, 0)})"
            );
        return $"{input.Finding} {input.Subject}. {language["refit-forecast.expected-refits"]}: " + $"{string.Join(", ", coming)}.";
    }
}
