namespace BackHistory.Store.Archives;

/// <param name="Types">Aliases; empty for all.</param>
public sealed record ChangeFilter(IReadOnlyList<string> Types, Guid? HorseId);
