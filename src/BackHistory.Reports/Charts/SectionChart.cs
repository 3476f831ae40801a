using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Cross-sections of one station over each other, seen from behind, in one scale both ways.</summary>
public static class SectionChart
{
    /// <exception cref="NotDrawableException">No curve, or one with a value that cannot be drawn.</exception>
    public static Chart Draw(SectionChartInput input, ChartTheme theme, ChartSize size)
    {
        if (input.Curves.Count == 0)
            throw new NotDrawableException("A chart of cross-sections needs at least one.");
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

    static void Draw(SectionChartInput input, ChartCanvas canvas)
    {
        var (language, unit) = (input.Language, PlaneUnit.For(input.Lengths));
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var bottom = ChartFrame.Note(
            canvas,
            input.MirrorLeftOnRight
                ? language["section.left-mirrored-onto-right", unit.Name(language)]
                : language["section.seen-from-behind-from", unit.Name(language)]
        );
        var halves = input.Curves.Select(c => Shown(Halves.Split(c.Points), input.MirrorLeftOnRight)).ToList();
        var view = new PlaneView(
            canvas,
            new PixelRect(0, canvas.Width, bottom, top),
            halves.SelectMany(h => h.Left.Concat(h.Right)),
            new PixelPadding(ChartFrame.Margin + 40, ChartFrame.Margin, 24, 18)
        );
        view.Grid(unit, language, x => input.MirrorLeftOnRight && x < 0 ? null : Math.Abs(x), y => y);
        Change(view, halves, canvas.Theme, input.MirrorLeftOnRight);
        for (var i = 0; i < halves.Count; i++)
        {
            var gaps = input.Curves[i].Gaps.Select(g => Shown(g, input.MirrorLeftOnRight)).ToList();
            Side(view, halves[i].Left, Content.SeriesSide.Left, i, halves.Count, gaps, canvas.Theme);
            Side(view, halves[i].Right, Content.SeriesSide.Right, i, halves.Count, gaps, canvas.Theme);
        }
        view.Render();
        foreach (var gap in input.Curves[^1].Gaps)
            view.Gap(Shown(gap, input.MirrorLeftOnRight), language);
        if (!input.MirrorLeftOnRight)
            Sides(canvas, view, language);
    }

    static Halves Shown(Halves halves, bool mirror) => mirror ? halves with { Left = Halves.Mirrored(halves.Left) } : halves;

    static CurveGap Shown(CurveGap gap, bool mirror) =>
        mirror ? new(new(Math.Abs(gap.From.X), gap.From.Y), new(Math.Abs(gap.To.X), gap.To.Y)) : gap;

    /// <summary>What lies between then and now, or between the sides, is shaded.</summary>
    static void Change(PlaneView view, List<Halves> halves, ChartTheme theme, bool mirror)
    {
        var now = halves[^1];
        if (mirror)
        {
            view.Area(now.Left.Concat(now.Right.Reverse()), theme.ChartCanvas, 0.09);
            return;
        }
        if (halves.Count > 1)
        {
            view.Area(halves[^2].Left.Concat(now.Left.Reverse()), theme.Left, 0.16);
            view.Area(halves[^2].Right.Concat(now.Right.Reverse()), theme.Right, 0.16);
        }
        var midline = view.Plot.Add.VerticalLine(0, 1, Colours.Plain(theme.Thin(theme.Muted, 0.6)));
        midline.LinePattern = LinePattern.Solid;
    }

    static void Side(
        PlaneView view,
        IReadOnlyList<PlanePoint> half,
        SeriesSide side,
        int index,
        int count,
        IReadOnlyList<CurveGap> gaps,
        ChartTheme theme
    )
    {
        foreach (var piece in Halves.WithoutGaps(half, gaps))
            view.Line(piece, Ages.Colour(theme, theme.ColourOf(side), index, count), Ages.Width(index, count), Dash.DashFor(side));
    }

    static void Sides(ChartCanvas canvas, PlaneView view, ReportLanguage language)
    {
        canvas.Label(language["section.horse-s-left"], view.Data.Left + 4, view.Data.Top - 4, 12, canvas.Theme.Muted);
        canvas.Label(language["section.horse-s-right"], view.Data.Right - 4, view.Data.Top - 4, 12, canvas.Theme.Muted, align: Align.End);
    }

    static List<KeyEntry> Key(SectionChartInput input)
    {
        var count = input.Curves.Count;
        var dates = input
            .Curves.Select(
                (curve, i) =>
                    new KeyEntry(
                        curve.Label,
                        (canvas, x, y) =>
                        {
                            var half = KeyEntry.SampleWidth / 2;
                            canvas.Line(x, y, x + half, y, Ages.Colour(canvas.Theme, canvas.Theme.Left, i, count), Ages.Width(i, count));
                            canvas.Line(
                                x + half,
                                y,
                                x + 2 * half,
                                y,
                                Ages.Colour(canvas.Theme, canvas.Theme.Right, i, count),
                                Ages.Width(i, count),
                                Dash.Right
                            );
                        }
                    )
            )
            .ToList();
        if (!input.MirrorLeftOnRight)
            return dates;
        KeyEntry[] sides =
        [
            new(input.Language["section.left"], (canvas, x, y) => canvas.Line(x, y, x + KeyEntry.SampleWidth, y, canvas.Theme.Left, 2.8f)),
            new(
                input.Language["section.right"],
                (canvas, x, y) => canvas.Line(x, y, x + KeyEntry.SampleWidth, y, canvas.Theme.Right, 2.8f, Dash.Right)
            ),
        ];
        return count == 1 ? [.. sides] : [.. sides, .. dates];
    }

    static string AltText(SectionChartInput input)
    {
        var (language, unit) = (input.Language, PlaneUnit.For(input.Lengths));
        var curves = input.Curves.Select(c =>
        {
            var width = unit.Size(c.Points.Max(p => p.X) - c.Points.Min(p => p.X), language);
            var depth = unit.Size(-c.Points.Min(p => p.Y), language);
            var gaps =
                c.Gaps.Count == 0 ? ""
                : c.Gaps.Count == 1 ? language["section.one-gap"]
                : language["section.gaps", c.Gaps.Count];
            return language["section.traced-wide-and-down", c.Label, width, depth, gaps];
        });
        return string.Join(' ', new[] { input.Finding, $"{input.Subject}." }.Concat(curves));
    }
}
