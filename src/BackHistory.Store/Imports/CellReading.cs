namespace BackHistory.Store.Imports;

/// <summary>What was made of a cell.</summary>
/// <param name="Column">The header.</param>
/// <param name="As">What the cell was taken for.</param>
public sealed record CellReading(string Column, string As);
