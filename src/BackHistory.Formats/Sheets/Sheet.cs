using BackHistory.Shape;

namespace BackHistory.Formats.Sheets;

/// <summary>What a cell of a spreadsheet holds.</summary>
public enum CellKind
{
    Empty,
    Text,
    Number,
    Date,
    Formula,
    Error,
}

/// <param name="Text">As it would be read aloud; for a number its invariant form.</param>
/// <param name="Number">Of a number; of a date its days since 1899-12-30, as spreadsheets count them.</param>
public readonly record struct Cell(CellKind Kind, string Text, double Number = 0)
{
    public static readonly Cell Nothing = new(CellKind.Empty, "");

    public static Cell Of(string? text) => string.IsNullOrWhiteSpace(text) ? Nothing : new Cell(CellKind.Text, text.Trim());
}

/// <param name="Line">As the spreadsheet counts its lines, from 1.</param>
/// <param name="Problem">Why the line cannot be read at all.</param>
public sealed record SheetRow(int Line, IReadOnlyList<Cell> Cells, Refusal? Problem = null)
{
    public Cell this[int column] => column < Cells.Count ? Cells[column] : Cell.Nothing;

    public bool IsEmpty => Problem is null && Cells.All(c => c.Kind == CellKind.Empty);
}

/// <summary>A table from a spreadsheet: one line of headers and the lines under it. Empty lines are left out.</summary>
public sealed record Sheet(IReadOnlyList<string> Headers, IReadOnlyList<SheetRow> Rows)
{
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

/// <summary>How much a spreadsheet may hold.</summary>
public static class SheetLimits
{
    public const int MostRows = 50_000;

    public const int MostColumns = 200;

    public const int LongestCell = 4000;

    /// <summary>A workbook of that many rows unpacks to less; a bomb unpacks to more.</summary>
    public const long MostUnpacked = 200L << 20;
}

/// <summary>Why a spreadsheet is not read.</summary>
public static class SheetRefusals
{
    public static readonly Refusal Empty = new("empty-file", "The file is empty.");

    public static readonly Refusal OldOrLocked = new(
        "old-or-locked",
        "This is an old .xls workbook or one locked with a password. Save it as .xlsx or .csv without a password."
    );

    public static readonly Refusal NoHeader = new("no-header", "The first line must name the columns.");

    public static readonly Refusal NoRows = new("no-rows", "There is no line under the headers.");

    public static readonly Refusal TooWide = new("too-wide", $"More than {SheetLimits.MostColumns} columns. Save the ones that matter.");

    public static readonly Refusal TooLong = new("too-many-rows", $"More than {SheetLimits.MostRows} lines. Divide the file.");

    public static readonly Refusal MergedHeader = new(
        "merged-header",
        "Cells of the header line are merged: it cannot be told which column is which. Undo the merging and save again."
    );

    public static readonly Refusal Macros = new("macros", "The workbook holds macros. Save it as .xlsx without them.");

    public static readonly Refusal Bomb = new(
        "unpacks-too-large",
        $"Unpacked the file would take more than {SheetLimits.MostUnpacked >> 20} MB. It was not opened."
    );

    public static readonly Refusal NotAWorkbook = new("unreadable", "This is no .xlsx workbook, or it is damaged.");

    public static readonly Refusal NotUtf8 = new("not-utf8", "The table's letters cannot be read. Save it as CSV UTF-8.");

    public static readonly Refusal Merged = new("merged-cells", "Cells of this line are merged with others.");

    public static readonly Refusal LongCell = new("long-cell", $"A cell holds more than {SheetLimits.LongestCell} letters.");

    public static Refusal HeaderTwice(string header) => new("header-twice", $"Two columns are called '{header}'. Name them apart.");

    public const string UnknownSheet = "no-such-sheet";

    public static Refusal NoSuchSheet(IEnumerable<string> sheets) =>
        new(UnknownSheet, $"There is no such sheet. There are: {string.Join(", ", sheets)}.");
}
