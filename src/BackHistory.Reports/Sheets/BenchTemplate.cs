using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Sheets.Drawing;
using PdfSharp.Drawing;

namespace BackHistory.Reports.Sheets;

/// <summary>
/// A cross-section at full size for the bench: a first page with the check square and the plan, then as many A4 pages as it takes, to be
/// laid over each other by their marks.
/// </summary>
public static class BenchTemplate
{
    /// <summary>A PDF. Printed at actual size, a millimetre of the horse is a millimetre on paper.</summary>
    /// <exception cref="NotDrawableException">A curve with a value that cannot be drawn, or larger than two metres.</exception>
    public static byte[] Write(BenchTemplateInput input)
    {
        input.Curve.Check();
        foreach (var depth in input.DepthMarks)
            NotDrawableException.ThrowUnlessFinite(depth, "A depth to mark");
        var tiles = TilePlan.Plan(input.Curve.Points);
        using var document = new SheetDocument(Title(input), input.Head);
        Cover(document, input, tiles);
        foreach (var tile in tiles.Tiles)
            Draw(document, input, tiles, tile);
        return document.Save();
    }

    static string Title(BenchTemplateInput input) =>
        $"{input.Head.HorseName}, {input.Station}, {input.Head.Language.Date(input.Head.Date)}";

    static void Cover(SheetDocument document, BenchTemplateInput input, TilePlan tiles)
    {
        var language = input.Head.Language;
        using var pen = document.Page(SheetDocument.A4Short, SheetDocument.A4Long);
        var beside = input.Head.Mark is { } mark ? pen.Mark(mark, 20, 9, 12) + 4 : 0;
        pen.Text(input.Head.PracticeName, 20 + beside, 20, 10, colour: SheetPen.Muted);
        pen.Contact(input.Head, 20, SheetDocument.A4Long - 10, 170);
        pen.Text(language["bench-template.template-at-full-size"], 20, 32, 20, bold: true);
        pen.Text(Title(input), 20, 40, 12);
        ScaleCheck.Square(pen, 20, 58, language);
        var y = 172.0;
        var sentence =
            tiles.Tiles.Count == 1
                ? language["bench-template.the-template-is-on"]
                : language["bench-template.the-template-is-on-the", tiles.Tiles.Count];
        foreach (var line in SheetPen.Wrap(sentence, 170, 11))
            pen.Text(line, 20, y += 5.8, 11);
        Plan(pen, input, tiles, y + 10);
    }

    /// <summary>How the pages lie, at a small scale.</summary>
    static void Plan(SheetPen pen, BenchTemplateInput input, TilePlan tiles, double top)
    {
        var (width, height) = (tiles.Right - tiles.Left, tiles.Top - tiles.Bottom);
        var scale = Math.Min(170 / width, 75 / height);
        XPoint At(double x, double y) => new(20 + (x - tiles.Left) * scale, top + (tiles.Top - y) * scale);
        foreach (var tile in tiles.Tiles)
        {
            var corner = At(tile.Left, tile.Top);
            pen.Frame(corner.X, corner.Y, tiles.Page.Width * scale, tiles.Page.Height * scale, 0.2, SheetPen.Muted);
            pen.Text(tile.Name, corner.X + 2, corner.Y + 6, 11, bold: true, SheetPen.Muted);
        }
        pen.Curve(input.Curve.Points.Select(p => At(p.X, p.Y)), 0.5, SheetPen.Ink);
    }

    static void Draw(SheetDocument document, BenchTemplateInput input, TilePlan tiles, Tile tile)
    {
        var language = input.Head.Language;
        var page = tiles.Page;
        using var pen = document.Page(page.PageWidth, page.PageHeight);
        XPoint At(double x, double y) => new(TilePage.Left + x - tile.Left, TilePage.Top + tile.Top - y);
        pen.Text($"{Title(input)}", TilePage.Left, 12, 11, bold: true);
        pen.Text(
            $"{input.Head.PracticeName} · {language["bench-template.page"]} {tile.Name}",
            page.PageWidth - TilePage.Left,
            17,
            8,
            colour: SheetPen.Muted,
            align: Align.End
        );
        pen.Inside(
            TilePage.Left,
            TilePage.Top,
            page.Width,
            page.Height,
            () =>
            {
                BenchDrawing.Depths(pen, input.DepthMarks, tiles, At, language);
                BenchDrawing.Contour(pen, input.Curve, At);
                BenchDrawing.RegistrationMarks(pen, tiles, At);
                BenchDrawing.Sides(pen, At, language);
            }
        );
        pen.Frame(TilePage.Left, TilePage.Top, page.Width, page.Height, 0.15, SheetPen.Faint);
        BenchDrawing.CutLines(pen, tiles, tile);
        ScaleCheck.Bar(pen, TilePage.Left, page.PageHeight - 17, language);
        pen.Text(language["bench-template.seen-from-behind-describes"], TilePage.Left, page.PageHeight - 9, 8, colour: SheetPen.Muted);
    }
}
