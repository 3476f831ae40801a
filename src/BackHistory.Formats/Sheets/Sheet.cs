using BackHistory.Shape;

namespace BackHistory.Formats.Sheets;

/// <summary>A table from a spreadsheet: one line of headers and the lines under it. Empty lines are left out.</summary>
public sealed record Sheet(IReadOnlyList<string> Headers, IReadOnlyList<SheetRow> Rows)
{
    public SheetLetters Letters { get; init; }

    /// <summary>Titles above the header.</summary>
    public IReadOnlyList<SheetTitle> PassedOver { get; init; } = [];

    /// <summary>Reads a comma-separated table or an .xlsx workbook, known by its bytes.</summary>
    /// <param name="name">Of the sheet, where a workbook has several; the first, where nothing is said.</param>
    public static (Sheet? Sheet, Refusal? Refused) Read(byte[] bytes, string? name)
    {
        if (bytes.Length == 0)
            return (null, SheetRefusals.Empty);
        if (bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0]))
            return (null, SheetRefusals.OldOrLocked);
        var (sheet, refused) = bytes.AsSpan().StartsWith("PK"u8) ? XlsxSheet.Read(bytes, name) : CsvSheet.Read(bytes);
        return refused is not null ? (null, refused) : Checked(sheet!);
    }

    private static (Sheet?, Refusal?) Checked(Sheet sheet)
    {
        if (sheet.Headers.Count == 0 || sheet.Headers.All(string.IsNullOrWhiteSpace))
            return (null, SheetRefusals.NoHeader);
        if (sheet.Headers.Count > SheetLimits.MostColumns)
            return (null, SheetRefusals.TooWide);
        var twice = sheet
            .Headers.Where(h => h.Length > 0)
            .GroupBy(h => h, StringComparer.OrdinalIgnoreCase)
            .FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
            return (null, SheetRefusals.HeaderTwice(twice.Key));
        var rows = sheet.Rows.Where(r => !r.IsEmpty).ToList();
        return rows.Count == 0 ? (null, SheetRefusals.NoRows) : (sheet with { Rows = rows }, null);
    }
}
