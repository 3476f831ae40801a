using System.Text;
using BackHistory.Shape;
using CsvHelper;

namespace BackHistory.Formats.Sheets;

/// <summary>A comma-, semicolon- or tab-separated table in UTF-8.</summary>
internal static class CsvSheet
{
    public static (Sheet? Sheet, Refusal? Refused) Read(byte[] utf8)
    {
        // A control character is a sign of some other file; a wrong letter would enter as a wrong name.
        if (!IsText(utf8))
            return (null, SheetRefusals.NotUtf8);
        using var csv = CsvRecords.Read(utf8, 1 << 20);
        try
        {
            csv.ReadHeader();
            var headers = csv.Headers?.Select(h => h.Trim()).ToList() ?? [];
            var rows = new List<SheetRow>();
            while (csv.Read())
            {
                if (rows.Count == SheetLimits.MostRows)
                    return (null, SheetRefusals.TooLong);
                rows.Add(Row(csv, headers.Count));
            }

            return (new Sheet(headers, rows), null);
        }
        catch (CsvFormatException e)
        {
            return (
                null,
                new Refusal(
                    "unreadable",
                    $"Line {e.LineNumber} is no line of a table: a quote is open, or it has another number of cells than the header."
                )
            );
        }
    }

    private static SheetRow Row(CsvReader csv, int columns)
    {
        var cells = new Cell[Math.Min(csv.FieldCount, columns)];
        Refusal? problem =
            csv.FieldCount > columns
                ? new Refusal("too-many-cells", $"The line has {csv.FieldCount} cells under {columns} headers.")
                : null;
        for (var i = 0; i < cells.Length; i++)
        {
            var text = csv.GetString(i);
            cells[i] = Cell.FromText(text);
            if (text.Length > SheetLimits.LongestCell)
                problem ??= SheetRefusals.LongCell;
            // Text that a spreadsheet would take for a formula is text here, and would be a formula again when it goes out.
            else if (cells[i] is { Kind: CellKind.Text, Text: ['=', ..] })
                cells[i] = new Cell(CellKind.Formula, cells[i].Text);
        }

        return new SheetRow((int)csv.LineNumber, cells, problem);
    }

    private static bool IsText(byte[] bytes)
    {
        try
        {
            return !new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes).AsSpan().ContainsAnyInRange('\0', '\b');
        }
        catch (DecoderFallbackException)
        {
            return false;
        }
    }
}
