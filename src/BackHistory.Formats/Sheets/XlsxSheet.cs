using System.Globalization;
using System.Xml;
using BackHistory.Shape;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace BackHistory.Formats.Sheets;

/// <summary>A sheet of an .xlsx workbook (ECMA-376), read as a stream. Nothing in it is run, followed or calculated.</summary>
internal static class XlsxSheet
{
    /// <summary>Days between the two calendars that workbooks count in.</summary>
    private const int Days1904 = 1462;

    public static (Sheet? Sheet, Refusal? Refused) Read(byte[] bytes, string? name)
    {
        if (XlsxSafety.Problem(bytes) is { } unsafeFile)
            return (null, unsafeFile);
        try
        {
            using var workbook = SpreadsheetDocument.Open(new MemoryStream(bytes, writable: false), false);
            return Read(workbook, name);
        }
        catch (Exception e)
            when (e
                    is OpenXmlPackageException
                        or XmlException
                        or IOException
                        or InvalidDataException
                        or FormatException
                        or InvalidOperationException
                        or ArgumentException
                        or KeyNotFoundException
                        or NotSupportedException
            )
        {
            return (null, SheetRefusals.NotAWorkbook);
        }
    }

    private static (Sheet?, Refusal?) Read(SpreadsheetDocument workbook, string? name)
    {
        if (workbook.WorkbookPart is not { Workbook: { } book } parts)
            return (null, SheetRefusals.NotAWorkbook);
        var sheets = book.Descendants<DocumentFormat.OpenXml.Spreadsheet.Sheet>().ToList();
        var chosen = name is null
            ? sheets.FirstOrDefault()
            : sheets.Find(s => string.Equals(s.Name?.Value, name, StringComparison.OrdinalIgnoreCase));
        if (chosen?.Id?.Value is not { } id)
            return (null, SheetRefusals.NoSuchSheet(sheets.Select(s => s.Name?.Value ?? "")));
        var reader = new CellReading(
            SharedStrings(parts),
            XlsxDates.Styles(parts),
            book.WorkbookProperties?.Date1904?.Value == true ? Days1904 : 0
        );
        var (lines, merged, refused) = Lines((WorksheetPart)parts.GetPartById(id), reader);
        if (refused is not null)
            return (null, refused);
        if (lines.Count == 0)
            return (null, SheetRefusals.NoHeader);
        var at = TitleRows.HeaderAt(lines);
        var header = lines[at];
        if (merged.Any(m => m.Last > m.First ? m.First <= header.Line && header.Line <= m.Last : m.First == header.Line))
            return (null, SheetRefusals.MergedHeader);
        var rows = lines
            .Skip(at + 1)
            .Select(r => merged.Any(m => m.First <= r.Line && r.Line <= m.Last) ? r with { Problem = SheetRefusals.Merged } : r);
        var titles = TitleRows.Titles(lines.Take(at));
        return (new Sheet([.. header.Cells.Select(c => c.Text)], [.. rows]) { PassedOver = titles }, null);
    }

    private static (List<SheetRow> Lines, List<(int First, int Last)> Merged, Refusal? Refused) Lines(WorksheetPart part, CellReading cells)
    {
        var lines = new List<SheetRow>();
        var merged = new List<(int, int)>();
        using var reader = OpenXmlReader.Create(part);
        var line = 0;
        while (reader.Read())
        {
            if (!reader.IsStartElement)
                continue;
            if (reader.ElementType == typeof(Row))
            {
                if (lines.Count > SheetLimits.MostRows)
                    return (lines, merged, SheetRefusals.TooLong);
                var row = (Row)reader.LoadCurrentElement()!;
                line = row.RowIndex?.Value is { } index ? (int)index : line + 1;
                var read = Row(row, line, cells);
                // Lines above the header that hold nothing are nobody's header.
                if (lines.Count > 0 || !read.IsEmpty)
                    lines.Add(read);
            }
            else if (reader.ElementType == typeof(MergeCell) && reader.LoadCurrentElement() is MergeCell { Reference.Value: { } reference })
            {
                var ends = reference.Split(':');
                merged.Add((CellReading.LineOf(ends[0]), CellReading.LineOf(ends[^1])));
            }
        }

        return (lines, merged, null);
    }

    private static SheetRow Row(Row row, int line, CellReading reading)
    {
        var cells = new List<Cell>();
        Refusal? problem = null;
        foreach (var cell in row.Elements<DocumentFormat.OpenXml.Spreadsheet.Cell>())
        {
            var column = cell.CellReference?.Value is { } reference ? CellReading.ColumnOf(reference) : cells.Count;
            if (column >= SheetLimits.MostColumns)
                continue;
            while (cells.Count <= column)
                cells.Add(Cell.Nothing);
            cells[column] = reading.Read(cell);
            if (cells[column].Text.Length > SheetLimits.LongestCell)
                problem = SheetRefusals.LongCell;
        }

        return new SheetRow(line, cells, problem);
    }

    private static List<string> SharedStrings(WorkbookPart parts)
    {
        var strings = new List<string>();
        if (parts.SharedStringTablePart is not { } part)
            return strings;
        using var reader = OpenXmlReader.Create(part);
        while (reader.Read())
        {
            // What is read aloud above the letters (phonetic guides) is no part of them.
            if (
                reader.IsStartElement
                && reader.ElementType == typeof(SharedStringItem)
                && reader.LoadCurrentElement() is SharedStringItem item
            )
                strings.Add(item.Text?.Text ?? string.Concat(item.Elements<Run>().Select(r => r.Text?.Text)));
        }

        return strings;
    }

    private sealed class CellReading(List<string> strings, HashSet<uint> dates, int shift)
    {
        public Cell Read(DocumentFormat.OpenXml.Spreadsheet.Cell cell)
        {
            var text = cell.CellValue?.Text;
            if (cell.CellFormula is not null)
                return new Cell(CellKind.Formula, text ?? "");
            var type = cell.DataType?.Value;
            if (type == CellValues.SharedString)
                return Cell.FromText(strings[int.Parse(text!, NumberStyles.None, CultureInfo.InvariantCulture)]);
            if (type == CellValues.InlineString)
                return Cell.FromText(cell.InnerText);
            if (type == CellValues.Error)
                return new Cell(CellKind.Error, text ?? "");
            if (type == CellValues.String || type == CellValues.Date || type == CellValues.Boolean)
                return Cell.FromText(text);
            if (string.IsNullOrEmpty(text))
                return Cell.Nothing;
            var number = double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);
            return cell.StyleIndex?.Value is { } style && dates.Contains(style)
                ? new Cell(CellKind.Date, XlsxDates.Text(number + shift) ?? text, number + shift)
                : new Cell(CellKind.Number, number.ToString(CultureInfo.InvariantCulture), number);
        }

        public static int ColumnOf(string reference)
        {
            var column = 0;
            foreach (var c in reference.TakeWhile(char.IsAsciiLetter))
                column = Math.Min(column * 26 + (char.ToUpperInvariant(c) - 'A' + 1), SheetLimits.MostColumns + 1);
            return column - 1;
        }

        public static int LineOf(string reference) =>
            int.Parse(reference.AsSpan(reference.AsSpan().IndexOfAnyInRange('0', '9')), NumberStyles.None, CultureInfo.InvariantCulture);
    }
}
