using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Sheets.Content;
using BackHistory.Reports.Sheets.Drawing;

namespace BackHistory.Reports.Sheets;

/// <summary>The sheet that a tracing is drawn on to be photographed: four corner marks, midline, level lines and a pale grid.</summary>
public static class TracingSheet
{
    static readonly PdfSharp.Drawing.XColor Pale = SheetPen.Colour("#CFE3EE");

    /// <summary>A PDF of one page.</summary>
    public static byte[] Write(SheetHead head, TracingPaper paper)
    {
        var place = TracingSheetGeometry.Of(paper);
        using var document = new SheetDocument(head.Language["tracing-sheet.tracing-sheet"], head);
        using (var pen = document.Page(place.Width, place.Height))
        {
            Grid(pen, place);
            Mark(pen, place.UpperLeft, core: false);
            foreach (var corner in new[] { place.UpperRight, place.LowerRight, place.LowerLeft })
                Mark(pen, corner, core: true);
            Midline(pen, place, head.Language);
            Head(pen, place, head);
        }
        return document.Save();
    }

    /// <summary>Pale, so that a pen line stands out; it stops short of the marks.</summary>
    static void Grid(SheetPen pen, TracingSheetGeometry place)
    {
        var (left, right, top, bottom) = (36.0, place.Width - 36, 36.0, place.Height - 36);
        var half = Math.Floor((right - left) / 2 / TracingSheetGeometry.GridPitch);
        for (var i = -half; i <= half; i++)
            pen.Line(
                place.Midline.X + i * TracingSheetGeometry.GridPitch,
                top,
                place.Midline.X + i * TracingSheetGeometry.GridPitch,
                bottom,
                i % 10 == 0 ? 0.4 : 0.15,
                Pale
            );
        for (var y = place.Midline.Y; y <= bottom; y += TracingSheetGeometry.GridPitch)
            pen.Line(
                place.Midline.X - half * TracingSheetGeometry.GridPitch,
                y,
                place.Midline.X + half * TracingSheetGeometry.GridPitch,
                y,
                0.15,
                Pale
            );
    }

    static void Mark(SheetPen pen, PlanePoint at, bool core)
    {
        void Square(double edge, PdfSharp.Drawing.XColor colour) => pen.Fill(at.X - edge / 2, at.Y - edge / 2, edge, edge, colour);
        Square(TracingSheetGeometry.MarkSize, PdfSharp.Drawing.XColors.Black);
        Square(TracingSheetGeometry.WhiteSize, PdfSharp.Drawing.XColors.White);
        if (core)
            Square(TracingSheetGeometry.CoreSize, PdfSharp.Drawing.XColors.Black);
    }

    static void Midline(SheetPen pen, TracingSheetGeometry place, ReportLanguage language)
    {
        var (x, y) = (place.Midline.X, place.Midline.Y);
        pen.Line(x, 36, x, place.Height - 36, 0.3, SheetPen.Muted, [3, 2]);
        pen.Line(x - 100, y, x + 100, y, 0.3, SheetPen.Muted, [3, 2]);
        pen.Ring(x, y, 2.5, 0.3, SheetPen.Ink);
        pen.Text(language["tracing-sheet.midline-point-here-level"], x + 4, y - 1.5, 8, colour: SheetPen.Muted);
        pen.Text(language["tracing-sheet.horse-s-left"], 38, y + 5, 10, colour: SheetPen.Muted);
        pen.Text(language["tracing-sheet.horse-s-right"], place.Width - 38, y + 5, 10, colour: SheetPen.Muted, align: Align.End);
    }

    static void Head(SheetPen pen, TracingSheetGeometry place, SheetHead head)
    {
        var language = head.Language;
        string[] fields =
        [
            language["tracing-sheet.horse"],
            language["tracing-sheet.place-on-the-back"],
            language["tracing-sheet.date"],
            language["tracing-sheet.drawn-by"],
        ];
        string[] filled = [head.HorseName, "", language.Date(head.Date), ""];
        var width = (place.Width - 72) / fields.Length;
        for (var i = 0; i < fields.Length; i++)
        {
            var x = 36 + i * width;
            pen.Text(fields[i], x, 13, 8, colour: SheetPen.Muted);
            pen.Text(filled[i], x, 19.5, 11, bold: true);
            pen.Line(x, 21, x + width - 6, 21, 0.2, SheetPen.Muted);
        }
        ScaleCheck.Bar(pen, 36, place.Height - 20, language);
        pen.Text(language["tracing-sheet.photograph-from-straight-above"], 36, place.Height - 11, 9, colour: SheetPen.Ink);
    }
}
