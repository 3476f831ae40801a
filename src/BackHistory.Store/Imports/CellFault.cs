namespace BackHistory.Store.Imports;

/// <summary>What is wrong with one cell of a line.</summary>
/// <param name="Column">The header; null where it is the whole line.</param>
/// <param name="Value">As it stands in the cell; null where nothing stands there, and where it may name a person and would stay.</param>
/// <param name="Message">What is wrong and what to do.</param>
public sealed record CellFault(string? Column, string? Value, string Code, string Message);
