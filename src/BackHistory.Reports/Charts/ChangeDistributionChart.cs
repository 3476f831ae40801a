using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Change in 90 days by group: a bar holds 80 of 100, a dot is the middle.</summary>
public static class ChangeDistributionChart
{
    /// <exception cref="NotDrawableException">No group, or a value that cannot be drawn.</exception>
    public static Chart Draw(ChangeDistributionInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input.Language), 240),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static KeyEntry[] Key(ReportLanguage language) =>
        [
            new(
                language["change-distribution.8-of-10-changes"],
                (pen, x, y) => pen.Fill(new PixelRect(x + 8, x + 22, y + 6, y - 6), pen.Theme.Thin(pen.Theme.Whole, 0.4))
            ),
            new(language["change-distribution.the-middle-one"], (pen, x, y) => pen.Dot(x + 15, y, 4.5f, pen.Theme.Whole)),
        ];

    static void Draw(ChangeDistributionInput input, ChartCanvas canvas)
    {
        var (language, theme) = (input.Language, canvas.Theme);
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(language));
        var places = Places(input);
        var up = TrendWindow.Range([.. input.All.SelectMany(b => new[] { b.Low, b.High }), 0]);
        var names = new ValuePlot.Names("", null, language["change-distribution.change-in-90-days"], input.Unit);
        var plot = new ValuePlot(
            canvas,
            new PixelRect(0, canvas.Width, canvas.Height - 8, top),
            (-0.6, places[^1].At + 0.6),
            up,
            names,
            language
        );
        plot.Level(0, theme.Thin(theme.Muted, 0.6), 1);
        foreach (var (bar, at) in places)
        {
            var box = plot.Plot.Add.Rectangle(at - 0.3, at + 0.3, bar.Low, bar.High);
            box.FillStyle.Color = Colours.Plain(theme.Thin(theme.Whole, 0.4));
            box.LineStyle.Width = 0;
        }
        plot.Points(places.Select(p => (p.At, p.Bar.Median)), theme.Whole, 10);
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        foreach (var (bar, at) in places)
            ticks.AddMajor(at, $"{bar.Name}\n{language.Number(bar.Count, 0)}");
        plot.Plot.Axes.Bottom.TickGenerator = ticks;
        plot.Render();
        foreach (var group in input.Groups.Where(g => g.Bars.Count > 0))
            canvas.Label(
                group.Name,
                plot.At(places.First(p => ReferenceEquals(p.Bar, group.Bars[0])).At - 0.45, 0).X,
                plot.Data.Top + 14,
                12,
                theme.Muted,
                Weight.Semibold
            );
    }

    /// <summary>One place a bar, and an empty one between the groups.</summary>
    static List<(ChangeBar Bar, double At)> Places(ChangeDistributionInput input)
    {
        var places = new List<(ChangeBar, double)>();
        var at = 0.0;
        foreach (var group in input.Groups.Where(g => g.Bars.Count > 0))
        {
            foreach (var bar in group.Bars)
                places.Add((bar, at++));
            at++;
        }
        return places;
    }

    static string AltText(ChangeDistributionInput input)
    {
        var language = input.Language;
        string Value(double value) => Words.WithUnit(language.Change(value, 1), input.Unit);
        var groups = input.Groups.Select(g =>
            $"{g.Name}: "
            + string.Join(
                ", ",
                g.Bars.Select(b => $"{b.Name} {Value(b.Median)} ({Value(b.Low)} {language["change-distribution.to"]} {Value(b.High)})")
            )
            + "."
        );
        return string.Join(' ', new[] { input.Finding, $"{input.Subject}." }.Concat(groups));
    }
}
