using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Toplines over each other, head to the left, in one scale both ways.</summary>
public static class ToplineChart
{
    const float LabelSize = 12;

    /// <exception cref="NotDrawableException">No curve, or one with a value that cannot be drawn.</exception>
    public static Chart Draw(ToplineChartInput input, ChartTheme theme, ChartSize size)
    {
        if (input.Curves.Count == 0)
            throw new NotDrawableException("A chart of toplines needs at least one.");
        foreach (var curve in input.Curves)
            curve.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), 190),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static List<KeyEntry> Key(ToplineChartInput input) =>
        [
            .. input.Curves.Select(
                (curve, i) =>
                    new KeyEntry(
                        curve.Label,
                        (canvas, x, y) =>
                            canvas.Line(
                                x,
                                y,
                                x + KeyEntry.SampleWidth,
                                y,
                                Ages.Colour(canvas.Theme, canvas.Theme.Whole, i, input.Curves.Count),
                                Ages.Width(i, input.Curves.Count)
                            )
                    )
            ),
        ];

    static void Draw(ToplineChartInput input, ChartCanvas canvas)
    {
        var (language, count, unit) = (input.Language, input.Curves.Count, PlaneUnit.For(input.Lengths));
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var bottom = ChartFrame.Note(canvas, language["topline.head-to-the-left", unit.Name(language)]);
        var view = new PlaneView(
            canvas,
            new PixelRect(0, canvas.Width, bottom, top),
            input.Curves.SelectMany(c => c.Points),
            new PixelPadding(ChartFrame.Margin + 40, ChartFrame.Margin, 24, 44),
            centred: true
        );
        view.Grid(unit, language, x => x, y => y);
        if (count > 1)
            view.Area(input.Curves[^2].Points.Concat(input.Curves[^1].Points.Reverse()), canvas.Theme.Whole, 0.14);
        foreach (var station in input.Curves[^1].Stations)
            view.Plot.Add.VerticalLine(station.At.X, 1, Colours.Plain(canvas.Theme.Thin(canvas.Theme.Muted, 0.55)), LinePattern.Solid);
        for (var i = 0; i < count; i++)
            view.Line(input.Curves[i].Points, Ages.Colour(canvas.Theme, canvas.Theme.Whole, i, count), Ages.Width(i, count));
        view.Render();
        Stations(canvas, view, input.Curves[^1].Stations);
    }

    /// <summary>A dot on the curve and the name above the plot, in two rows so that neighbours stay apart.</summary>
    static void Stations(ChartCanvas canvas, PlaneView view, IReadOnlyList<StationMark> stations)
    {
        var ends = new float[3];
        foreach (var station in stations.OrderBy(s => s.At.X))
        {
            var at = view.At(station.At);
            canvas.Dot(at.X, at.Y, 6, canvas.Theme.Background);
            canvas.Dot(at.X, at.Y, 4.2f, canvas.Theme.Whole);
            var width = Lettering.Width(Printable.Clean(station.Name), LabelSize);
            var left = Math.Clamp(
                at.X - width / 2,
                ChartFrame.Margin,
                Math.Max(ChartFrame.Margin, canvas.Width - ChartFrame.Margin - width)
            );
            var row = Array.FindIndex(ends, end => end < left);
            row = row < 0 ? ends.Length - 1 : row;
            ends[row] = left + width + 8;
            canvas.Line(at.X, view.Data.Top, at.X, view.Data.Top - 4 - row * 15, canvas.Theme.Thin(canvas.Theme.Muted, 0.55));
            canvas.Label(station.Name, left, view.Data.Top - 7 - row * 15, LabelSize, canvas.Theme.ChartCanvas);
        }
    }

    static string AltText(ToplineChartInput input)
    {
        var language = input.Language;
        var now = input.Curves[^1];
        var stations = string.Join(
            ", ",
            now.Stations.OrderBy(s => s.At.X).Select(s => $"{s.Name} {PlaneUnit.For(input.Lengths).Size(s.At.Y, language)}")
        );
        var dates = string.Join(language["topline.and"], input.Curves.Select(c => c.Label));
        return language["topline.toplines-of-heights-at", input.Finding, input.Subject, dates, stations];
    }
}
