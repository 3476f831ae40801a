using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using PdfSharp.Drawing;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>What is drawn in the window of a bench template, each in the drawing's mm through <c>at</c>.</summary>
internal static class BenchDrawing
{
    static readonly double[] RightDash = [4, 1.5];

    public static void Contour(SheetPen pen, SectionCurve curve, Func<double, double, XPoint> at)
    {
        var halves = Halves.Split(curve.Points);
        foreach (var piece in Halves.WithoutGaps(halves.Left, curve.Gaps))
            pen.Curve(piece.Select(p => at(p.X, p.Y)), 0.5, SheetPen.Left);
        foreach (var piece in Halves.WithoutGaps(halves.Right, curve.Gaps))
            pen.Curve(piece.Select(p => at(p.X, p.Y)), 0.5, SheetPen.Right, RightDash);
        foreach (var gap in curve.Gaps)
        {
            var (from, to) = (at(gap.From.X, gap.From.Y), at(gap.To.X, gap.To.Y));
            pen.Line(from.X, from.Y, to.X, to.Y, 0.3, SheetPen.Muted, [0.5, 1.5]);
        }
    }

    /// <summary>The midline, and a level line at each depth with its depth beside the midline.</summary>
    public static void Depths(
        SheetPen pen,
        IReadOnlyList<double> depths,
        TilePlan tiles,
        Func<double, double, XPoint> at,
        ReportLanguage language
    )
    {
        var (top, bottom) = (at(0, tiles.Top), at(0, tiles.Bottom));
        pen.Line(top.X, top.Y, bottom.X, bottom.Y, 0.25, SheetPen.Ink);
        foreach (var depth in depths.Prepend(0).Where(d => -d > tiles.Bottom))
        {
            var (left, right) = (at(tiles.Left, -depth), at(tiles.Right, -depth));
            pen.Line(left.X, left.Y, right.X, right.Y, 0.15, SheetPen.Faint);
            for (var side = -1; side <= 1; side += 2)
                pen.Text(
                    $"{language.Number(depth, 0)} mm",
                    at(side * 8, -depth).X,
                    left.Y - 1,
                    8,
                    colour: SheetPen.Muted,
                    align: side < 0 ? Align.End : Align.Start
                );
        }
    }

    public static void RegistrationMarks(SheetPen pen, TilePlan tiles, Func<double, double, XPoint> at)
    {
        foreach (var mark in tiles.Marks)
        {
            var place = at(mark.X, mark.Y);
            pen.Line(place.X - 6, place.Y, place.X + 6, place.Y, 0.2);
            pen.Line(place.X, place.Y - 6, place.X, place.Y + 6, 0.2);
            pen.Ring(place.X, place.Y, 3, 0.2, SheetPen.Ink);
            pen.Text(mark.Letter, place.X + 4, place.Y - 3.5, 9, bold: true);
        }
    }

    /// <summary>Left and right written large inside each half, on every page that shows it.</summary>
    public static void Sides(SheetPen pen, Func<double, double, XPoint> at, ReportLanguage language)
    {
        var (left, right) = (at(-30, -120), at(30, -120));
        pen.Text(language["bench-drawing.left"], left.X, left.Y, 16, bold: true, SheetPen.Left, Align.End);
        pen.Text(language["bench-drawing.right"], right.X, right.Y, 16, bold: true, SheetPen.Right);
    }

    /// <summary>Where this page may be cut to be laid over its neighbour to the left or above.</summary>
    public static void CutLines(SheetPen pen, TilePlan tiles, Tile tile)
    {
        const double Cut = TilePlan.Overlap / 2 - 8;
        if (tile.Column > 0)
            pen.Line(
                TilePage.Left + Cut,
                TilePage.Top - 3,
                TilePage.Left + Cut,
                TilePage.Top + tiles.Page.Height + 3,
                0.2,
                SheetPen.Muted,
                [2, 2]
            );
        if (tile.Row > 0)
            pen.Line(
                TilePage.Left - 3,
                TilePage.Top + Cut,
                TilePage.Left + tiles.Page.Width + 3,
                TilePage.Top + Cut,
                0.2,
                SheetPen.Muted,
                [2, 2]
            );
    }
}
