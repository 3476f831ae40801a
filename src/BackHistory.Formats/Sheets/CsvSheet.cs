using BackHistory.Shape;
using CsvHelper;

namespace BackHistory.Formats.Sheets;

/// <summary>A comma-, semicolon- or tab-separated table in UTF-8, in UTF-16 with its mark or in Windows letters.</summary>
internal static class CsvSheet
{
    public static (Sheet? Sheet, Refusal? Refused) Read(byte[] bytes)
    {
        if (CsvText.Decode(bytes) is not { } text)
            return (null, SheetRefusals.UnknownLetters);
        using var csv = CsvRecords.Read(text.Utf8, 1 << 20, CsvText.Separator(text.Utf8), header: false);
        try
        {
            var lines = new List<SheetRow>();
            while (csv.Read())
            {
                if (lines.Count > SheetLimits.MostRows)
                    return (null, SheetRefusals.TooLong);
                lines.Add(Row(csv));
            }

            if (lines.Count == 0)
                return (null, SheetRefusals.NoHeader);
            var at = TitleRows.HeaderAt(lines);
            var header = lines[at];
            if (header.Problem is { } unreadable)
                return (null, unreadable);
            var headers = header.Cells.Select(c => c.Text).ToList();
            return (
                new Sheet(headers, [.. lines.Skip(at + 1).Select(r => Under(r, headers.Count))])
                {
                    Letters = text.Letters,
                    PassedOver = TitleRows.Titles(lines.Take(at)),
                },
                null
            );
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

    private static SheetRow Under(SheetRow row, int columns) =>
        row.Cells.Count <= columns
            ? row
            : row with
            {
                Cells = [.. row.Cells.Take(columns)],
                Problem = new Refusal("too-many-cells", $"The line has {row.Cells.Count} cells under {columns} headers."),
            };

    private static SheetRow Row(CsvReader csv)
    {
        var cells = new Cell[Math.Min(csv.FieldCount, SheetLimits.MostColumns + 1)];
        Refusal? problem = null;
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
}
