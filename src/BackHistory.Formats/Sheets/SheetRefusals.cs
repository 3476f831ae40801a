using BackHistory.Shape;

namespace BackHistory.Formats.Sheets;

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

    public static readonly Refusal UnknownLetters = new("not-utf8", "The table's letters cannot be read. Save it as CSV UTF-8.");

    public static readonly Refusal Merged = new("merged-cells", "Cells of this line are merged with others.");

    public static readonly Refusal LongCell = new("long-cell", $"A cell holds more than {SheetLimits.LongestCell} letters.");

    public static Refusal HeaderTwice(string header) => new("header-twice", $"Two columns are called '{header}'. Name them apart.");

    public const string UnknownSheet = "no-such-sheet";

    public static Refusal NoSuchSheet(IEnumerable<string> sheets) =>
        new(UnknownSheet, $"There is no such sheet. There are: {string.Join(", ", sheets)}.");
}
