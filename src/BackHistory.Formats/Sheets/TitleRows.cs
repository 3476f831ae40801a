namespace BackHistory.Formats.Sheets;

/// <summary>Titles above a table: what it is and of when, in one cell a line.</summary>
internal static class TitleRows
{
    private const int Most = 20;

    /// <param name="rows">From the first line of the file on.</param>
    /// <returns>Where the header stands: under the lines of one filled cell, where more than one cell with letters follows; else the first
    /// line.</returns>
    public static int HeaderAt(IReadOnlyList<SheetRow> rows)
    {
        var at = 0;
        while (at < Most && at < rows.Count && Filled(rows[at]) <= 1)
            at++;
        return at > 0 && at < rows.Count && IsHeader(rows[at]) ? at : 0;
    }

    /// <summary>What stands in the lines above the header.</summary>
    public static IReadOnlyList<SheetTitle> Titles(IEnumerable<SheetRow> above) =>
        [
            .. above
                .Select(r => new SheetTitle(r.Line, r.Cells.FirstOrDefault(c => c.Kind != CellKind.Empty).Text ?? ""))
                .Where(t => t.Text.Length > 0),
        ];

    private static int Filled(SheetRow row) => row.Cells.Count(c => c.Kind != CellKind.Empty);

    /// <summary>Names of columns are words: with a number or a day among them it is a line of the table.</summary>
    private static bool IsHeader(SheetRow row) =>
        row.Cells.Where(c => c.Kind != CellKind.Empty).All(c => c.Kind == CellKind.Text && c.Text.Any(char.IsLetter));
}
