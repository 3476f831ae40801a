using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>Sets headings, paragraphs, tables and charts under each other over as many A4 pages as they take.</summary>
internal sealed class Flow : IDisposable
{
    public const double Side = 16;
    public const double Width = SheetDocument.A4Short - 2 * Side;

    const double FieldHeight = 9.5;
    const double Top = 24;
    const double Bottom = SheetDocument.A4Long - 20;
    const double MillimetresPerPixel = 25.4 / 96;

    /// <summary>The width of a chart that fills the line, in CSS pixels.</summary>
    public const int ChartWidth = (int)(Width / MillimetresPerPixel);

    readonly SheetDocument document;
    readonly SheetHead head;
    readonly string title;
    SheetPen pen;
    double y;

    public Flow(SheetDocument document, SheetHead head, string title)
    {
        (this.document, this.head, this.title) = (document, head, title);
        pen = NewPage();
    }

    SheetPen NewPage()
    {
        var page = document.Page(SheetDocument.A4Short, SheetDocument.A4Long);
        var beside = head.Mark is { } mark ? page.Mark(mark, Side, 4.5, 10) + 3 : 0;
        page.Text(head.PracticeName, Side + beside, 13, 9, colour: SheetPen.Muted);
        page.Text(
            $"{head.HorseName} · {head.Language.Date(head.Date)}",
            SheetDocument.A4Short - Side,
            13,
            9,
            colour: SheetPen.Muted,
            align: Align.End
        );
        page.Line(Side, 16, SheetDocument.A4Short - Side, 16, 0.2, SheetPen.Faint);
        page.Text(title, Side, SheetDocument.A4Long - 10, 8, colour: SheetPen.Muted);
        page.Contact(head, Side, SheetDocument.A4Long - 6, Width);
        page.Text(
            $"{head.Language["flow.page"]} {document.Pages}",
            SheetDocument.A4Short - Side,
            SheetDocument.A4Long - 10,
            8,
            colour: SheetPen.Muted,
            align: Align.End
        );
        y = Top;
        return page;
    }

    /// <summary>Begins a new page where less than so many mm are left.</summary>
    public void Room(double height)
    {
        if (y + height <= Bottom || y <= Top)
            return;
        pen.Dispose();
        pen = NewPage();
    }

    public void Title(string text) => Lines(text, 17, bold: true, 7.6);

    public void Heading(string text)
    {
        Room(22);
        y += 3;
        Lines(text, 12, bold: true, 5.6);
        y += 1;
    }

    public void Paragraph(string text, bool muted = false) => Lines(text, 10, bold: false, 5, muted);

    void Lines(string text, double points, bool bold, double height, bool muted = false)
    {
        foreach (var line in SheetPen.Wrap(text, Width, points, bold))
        {
            Room(height);
            pen.Text(line, Side, y + height * 0.75, points, bold, muted ? SheetPen.Muted : SheetPen.Ink);
            y += height;
        }
        y += 1.6;
    }

    /// <summary>A chart over the whole line, at 288 dots an inch.</summary>
    public void Chart(Chart chart)
    {
        var (width, height) = (chart.Width * MillimetresPerPixel, chart.Height * MillimetresPerPixel);
        var shrink = Math.Min(1, Width / width);
        Room(height * shrink + 2);
        pen.Image(chart.ToPng(3), Side, y, width * shrink, height * shrink);
        y += height * shrink + 3;
    }

    /// <summary>Cautions in a box with a bar at its edge.</summary>
    public void Caution(IReadOnlyList<string> sentences)
    {
        var lines = sentences.SelectMany(s => SheetPen.Wrap(s, Width - 12, 9.5)).ToList();
        var height = lines.Count * 4.8 + 6;
        Room(height + 2);
        pen.Fill(Side, y, Width, height, SheetPen.Colour("#FBF3E6"));
        pen.Fill(Side, y, 1.2, height, SheetPen.Right);
        for (var i = 0; i < lines.Count; i++)
            pen.Text(lines[i], Side + 6, y + 6.2 + i * 4.8, 9.5);
        y += height + 4;
    }

    /// <summary>Rows with their heads repeated on every page. <paramref name="shares"/> are parts of the line's width.</summary>
    public void Table(
        IReadOnlyList<string> heads,
        IReadOnlyList<double> shares,
        IReadOnlyList<IReadOnlyList<string>> rows,
        string note = ""
    )
    {
        var widths = shares.Select(s => s / shares.Sum() * Width).ToList();
        Row(heads, widths, head: true);
        for (var i = 0; i < rows.Count; i++)
        {
            var (row, height) = (rows[i], RowHeight(rows[i], widths) + (i == rows.Count - 1 && note.Length > 0 ? 9 : 0));
            if (y + height > Bottom)
            {
                Room(height);
                Row(heads, widths, head: true);
            }
            Row(row, widths, head: false);
        }
        y += 2;
        // What is said about a table stays with it.
        if (note.Length > 0)
            Paragraph(note, muted: true);
        y += 1;
    }

    static double RowHeight(IReadOnlyList<string> cells, List<double> widths) =>
        cells.Select((c, i) => SheetPen.Wrap(c, widths[i] - 3, 9).Count).DefaultIfEmpty(1).Max() * 4.4 + 2.6;

    void Row(IReadOnlyList<string> cells, List<double> widths, bool head)
    {
        var height = RowHeight(cells, widths);
        if (head)
            Room(height + 12);
        var x = Side;
        for (var i = 0; i < cells.Count; i++)
        {
            var lines = SheetPen.Wrap(cells[i], widths[i] - 3, 9, bold: false);
            for (var line = 0; line < lines.Count; line++)
                pen.Text(lines[line], x, y + 4.4 * (line + 1), 9, bold: !head && i == 0, head ? SheetPen.Muted : SheetPen.Ink);
            x += widths[i];
        }
        y += height;
        pen.Line(Side, y, Side + Width, y, 0.2, SheetPen.Faint);
    }

    /// <summary>A heading over ruled lines to be filled in by hand, each with its name; all on one page.</summary>
    public void Fields(string heading, IReadOnlyList<string> names)
    {
        Room(12 + FieldHeight * names.Count);
        Heading(heading);
        foreach (var name in names)
        {
            pen.Text(name, Side, y + 6, 9, colour: SheetPen.Muted);
            var start = Side + Math.Max(42, SheetPen.WidthOf(name, 9) + 4);
            pen.Line(start, y + 7, Side + Width, y + 7, 0.2, SheetPen.Muted);
            y += FieldHeight;
        }
    }

    public void Dispose() => pen.Dispose();
}
