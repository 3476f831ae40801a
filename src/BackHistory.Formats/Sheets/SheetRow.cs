using BackHistory.Shape;

namespace BackHistory.Formats.Sheets;

/// <param name="Line">As the spreadsheet counts its lines, from 1.</param>
/// <param name="Problem">Why the line cannot be read at all.</param>
public sealed record SheetRow(int Line, IReadOnlyList<Cell> Cells, Refusal? Problem = null)
{
    public Cell this[int column] => column < Cells.Count ? Cells[column] : Cell.Nothing;

    public bool IsEmpty => Problem is null && Cells.All(c => c.Kind == CellKind.Empty);
}
