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
