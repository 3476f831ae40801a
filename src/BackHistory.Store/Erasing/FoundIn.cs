namespace BackHistory.Store.Erasing;

/// <param name="Table">With its schema.</param>
public sealed record FoundIn(string Table, long Rows);
