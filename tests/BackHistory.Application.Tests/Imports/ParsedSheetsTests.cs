using System.Globalization;
using BackHistory.Application.Imports;
using BackHistory.Formats.Sheets;

namespace BackHistory.Application.Tests.Imports;

/// <summary>Tables that were read are kept for the next step, inside bounds.</summary>
public sealed class ParsedSheetsTests
{
    [Fact]
    public void Of_many_tables_the_longest_unused_go_first_and_one_that_is_too_large_is_not_kept()
    {
        var sheets = new ParsedSheets();
        var half = Of(ParsedSheets.MostCells / 2);
        sheets.Keep("first", null, half);
        sheets.Keep("second", "Horses", half);
        Assert.NotNull(sheets.Find("first", null));
        sheets.Keep("third", null, Of(10));
        Assert.Same(half, sheets.Find("first", null));
        Assert.Null(sheets.Find("second", "Horses"));
        sheets.Keep("fourth", null, Of(ParsedSheets.MostCells + 1));
        Assert.Null(sheets.Find("fourth", null));
        Assert.NotNull(sheets.Find("third", null));
        Assert.Null(sheets.Find("third", "another sheet of it"));
    }

    private static Sheet Of(int cells) =>
        new([], [new SheetRow(2, [.. Enumerable.Range(0, cells).Select(i => Cell.Of(i.ToString(CultureInfo.InvariantCulture)))])]);
}
