using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Detection against false alarms: up and to the left is better.</summary>
public static class OperatingCurveChart
{
    static readonly Dash?[] Dashes = [null, Dash.Right, Dash.Mirrored, Dash.Threshold, Dash.Limit];

    /// <exception cref="NotDrawableException">No curve, more than five, or a value out of range.</exception>
    public static Chart Draw(OperatingCurveInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), 220),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static string Colour(ChartTheme theme, int i) =>
        i switch
        {
            0 => theme.Whole,
            1 => theme.Right,
            2 => theme.Work,
            3 => theme.Threshold,
            _ => theme.ChartCanvas,
        };

    static List<KeyEntry> Key(OperatingCurveInput input) =>
        [
            .. input.Curves.Select(
                (c, i) =>
                    new KeyEntry(
                        c.Name,
                        (canvas, x, y) => canvas.Line(x, y, x + KeyEntry.SampleWidth, y, Colour(canvas.Theme, i), i == 0 ? 3 : 2, Dashes[i])
                    )
            ),
        ];

    static void Draw(OperatingCurveInput input, ChartCanvas canvas)
    {
        var (language, theme) = (input.Language, canvas.Theme);
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var most = input
            .Curves.SelectMany(c => c.Points)
            .Select(p => p.FalseAlarmsPerHorseYear)
            .Append(input.PromisedFalseAlarms ?? 0)
            .Max();
        var names = new ValuePlot.Names(
            language["operating-curve.false-alarms-a-horse"],
            "",
            language["operating-curve.changes-found"],
            "%"
        );
        var plot = new ValuePlot(
            canvas,
            new PixelRect(0, canvas.Width, canvas.Height - 8, top),
            (0, most > 0 ? most * 1.04 : 1),
            (0, 104),
            names,
            language
        );
        if (input is { PromisedFalseAlarms: { } alarms, PromisedDetection: { } detection })
        {
            var kept = plot.Plot.Add.Rectangle(0, alarms, detection * 100, 104);
            kept.FillStyle.Color = Colours.Clear(theme.Work, 0.14);
            kept.LineStyle.Width = 0;
        }
        for (var i = input.Curves.Count - 1; i >= 0; i--)
        {
            var points = input
                .Curves[i]
                .Points.OrderBy(p => p.FalseAlarmsPerHorseYear)
                .ThenBy(p => p.Detected)
                .Select(p => (p.FalseAlarmsPerHorseYear, p.Detected * 100));
            plot.Curve(points, Colour(theme, i), i == 0 ? 3 : 2, Dashes[i]);
            if (input.Curves[i].InUse is { } use)
                plot.Points([(use.FalseAlarmsPerHorseYear, use.Detected * 100)], Colour(theme, i), 11);
        }
        plot.Render();
        if (input is { PromisedFalseAlarms: { } most2, PromisedDetection: { } least })
            canvas.Label(
                language["operating-curve.the-promise-is-kept"],
                plot.Data.Left + 6,
                plot.At(most2, least * 100).Y + 15,
                12,
                theme.ChartCanvas,
                Weight.Regular
            );
    }

    static string AltText(OperatingCurveInput input)
    {
        var language = input.Language;
        var inUse = input
            .Curves.Where(c => c.InUse is not null)
            .Select(c =>
                language[
                    "operating-curve.found-at-false-alarms",
                    c.Name,
                    language.Number(c.InUse!.Detected * 100, 1),
                    language.Number(c.InUse.FalseAlarmsPerHorseYear, 3)
                ]
            );
        return string.Join(' ', new[] { input.Finding, $"{input.Subject}." }.Concat(inUse));
    }
}
