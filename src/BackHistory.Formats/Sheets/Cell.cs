namespace BackHistory.Formats.Sheets;

/// <param name="Text">As it would be read aloud; for a number its invariant form, for a date <c>2026-04-21</c>.</param>
/// <param name="Number">Of a number; of a date its days since 1899-12-30, as spreadsheets count them.</param>
public readonly record struct Cell(CellKind Kind, string Text, double Number = 0)
{
    public static readonly Cell Nothing = new(CellKind.Empty, "");

    public static Cell FromText(string? text) => string.IsNullOrWhiteSpace(text) ? Nothing : new Cell(CellKind.Text, text.Trim());
}
