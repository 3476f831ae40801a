using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>Saddle work: a line down the plot for each day of it, and its label in a lane above, in as many rows as keep labels
/// apart.</summary>
internal sealed class MarkLane
{
    const float Size = 12;
    const float Row = 17;
    const int MostLabels = 8;

    readonly List<Placed> placed = [];
    int rows;

    sealed record Placed(SaddleMark Mark, string Text, float X, float TextLeft, float TextRight, int Row);

    /// <summary>Pixels above the plot.</summary>
    public float Height => rows == 0 ? 6 : rows * Row + 6;

    /// <summary>Pixels that so many marks take at most.</summary>
    public static float MostHigh(int marks) => Math.Min(marks, MostLabels) * Row + 6;

    public static MarkLane Lay(IReadOnlyList<SaddleMark> marks, TrendWindow window, TimeScale scale, ReportLanguage language)
    {
        var shown = marks.Where(m => m.On >= window.From && m.On <= window.To).OrderByDescending(m => m.On).ToList();
        // The latest keep their words when there are more than a lane can hold; the baseline always does.
        var worded = shown.OrderByDescending(m => m.IsBaseline).Take(MostLabels).ToHashSet();
        var lane = new MarkLane();
        var texts = shown
            .Select(m => (Mark: m, Text: worded.Contains(m) ? Printable.Clean($"{m.Label} {language.Date(m.On)}") : ""))
            .ToList();
        // A label stands right of its line, or left of it where the picture ends. From the right to the left, and those that point left
        // last: a label that runs over another's line then stands in a row above that line's end.
        foreach (var (mark, text) in texts.OrderBy(t => PointsLeft(t.Mark, t.Text, scale)))
            lane.Add(mark, text, scale);
        return lane;
    }

    static bool PointsLeft(SaddleMark mark, string text, TimeScale scale) => scale.X(mark.On) + 5 + WidthOf(mark, text) > scale.Right + 8;

    static float WidthOf(SaddleMark mark, string text) => Lettering.Width(text, Size, mark.IsBaseline ? Weight.Semibold : Weight.Regular);

    void Add(SaddleMark mark, string text, TimeScale scale)
    {
        var x = scale.X(mark.On);
        var width = WidthOf(mark, text);
        var left = !PointsLeft(mark, text, scale) ? x + 5 : Math.Max(ChartFrame.Margin, Math.Min(x - 5 - width, scale.Right - width));
        var row = placed.Where(p => p.X > left - 2 && p.X < left + width + 2 && p.X != x).Select(p => p.Row + 1).DefaultIfEmpty(0).Max();
        while (placed.Any(p => p.Row == row && p.TextLeft < left + width + 8 && left < p.TextRight + 8))
            row++;
        rows = Math.Max(rows, row + 1);
        placed.Add(new(mark, text, x, left, left + width, row));
    }

    public void Lines(Plot plot, ChartTheme theme)
    {
        foreach (var one in placed)
            plot.Add.VerticalLine(
                one.Mark.On.DayNumber,
                one.Mark.IsBaseline ? 1.6f : 1,
                Colours.Plain(Colour(one.Mark, theme)),
                LinePattern.Solid
            );
    }

    public void Labels(ChartCanvas canvas, PixelRect data)
    {
        foreach (var one in placed)
            canvas.Line(
                one.X,
                data.Top,
                one.X,
                Baseline(one, data) - Size + 2,
                Colour(one.Mark, canvas.Theme),
                one.Mark.IsBaseline ? 1.6f : 1
            );
        foreach (var one in placed)
        {
            canvas.Label(
                one.Text,
                one.TextLeft,
                Baseline(one, data),
                Size,
                one.Mark.IsBaseline ? canvas.Theme.ChartCanvas : canvas.Theme.Muted,
                one.Mark.IsBaseline ? Weight.Semibold : Weight.Regular
            );
        }
    }

    /// <summary>Row 0 lies next to the plot.</summary>
    static float Baseline(Placed one, PixelRect data) => data.Top - 6 - one.Row * Row;

    static string Colour(SaddleMark mark, ChartTheme theme) => mark.IsBaseline ? theme.ChartCanvas : theme.Thin(theme.Muted, 0.75);
}
