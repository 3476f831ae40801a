using BackHistory.Reports.Charts.Content;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>Lay-offs, illness and work: faint shading through the plot, and a labelled bar in a lane under it.</summary>
internal sealed class SpanLane
{
    const float Size = 11.5f;
    const float Row = 19;

    readonly List<Placed> placed = [];
    int rows;

    sealed record Placed(HorseSpan Span, DateOnly To, float Left, float Right, float TextLeft, int Row);

    /// <summary>Pixels under the plot.</summary>
    public float Height => rows == 0 ? 0 : rows * Row + 4;

    /// <summary>Pixels that so many spans take at most, if no more than four lie side by side.</summary>
    public static float MostHigh(int spans) => spans == 0 ? 0 : Math.Min(spans, 4) * Row + 4;

    public static SpanLane Lay(IReadOnlyList<HorseSpan> spans, TrendWindow window, TimeScale scale)
    {
        var lane = new SpanLane();
        var ends = new List<float>();
        foreach (var span in spans.Where(s => s.From <= window.To && (s.To ?? window.To) >= window.From).OrderBy(s => s.From))
        {
            var from = span.From < window.From ? window.From : span.From;
            var to = span.To is { } last && last < window.To ? last : window.To;
            var (left, right) = (scale.X(from), Math.Max(scale.X(to), scale.X(from) + 3));
            var width = Lettering.Width(Printable.Clean(span.Label), Size) + 12;
            // A label longer than its bar runs on to the right of it; at the picture's edge it stands left of it.
            var textLeft = left + width <= scale.Right ? left : Math.Max(ChartFrame.Margin, left - width + 2);
            var start = Math.Min(left, textLeft);
            var row = ends.FindIndex(end => end < start);
            if (row < 0)
                (row, ends) = (ends.Count, [.. ends, 0]);
            ends[row] = Math.Max(right, textLeft + width) + 2;
            lane.placed.Add(new(span, to, left, right, textLeft, row));
        }
        lane.rows = ends.Count;
        return lane;
    }

    public void Shade(Plot plot, ChartTheme theme)
    {
        foreach (var one in placed.Where(p => p.Span.Kind != SpanKind.Work))
        {
            var shade = plot.Add.HorizontalSpan(
                one.Span.From.DayNumber,
                one.To.DayNumber,
                Colours.Clear(Colour(one.Span.Kind, theme), 0.11)
            );
            shade.LineStyle.Width = 0;
        }
    }

    public void Bars(ChartCanvas canvas, PixelRect data)
    {
        foreach (var one in placed)
        {
            var top = data.Bottom + 5 + one.Row * Row;
            var colour = Colour(one.Span.Kind, canvas.Theme);
            canvas.Fill(new PixelRect(one.Left, one.Right, top + Row - 3, top), canvas.Theme.Thin(colour, 0.24));
            canvas.Fill(new PixelRect(one.Left, one.Left + 3, top + Row - 3, top), colour);
            canvas.Text(one.Span.Label, one.TextLeft + 7, top + Row - 7, Size, canvas.Theme.ChartCanvas);
        }
    }

    public static string Colour(SpanKind kind, ChartTheme theme) =>
        kind switch
        {
            SpanKind.LayOff => theme.LayOff,
            SpanKind.Illness => theme.Illness,
            _ => theme.Work,
        };
}
