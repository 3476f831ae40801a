namespace BackHistory.Store.Imports;

/// <param name="Stream">The horse or the saddle in whose history it stands; the person or yard itself.</param>
public sealed record MadeByImport(MadeAs As, Guid Stream, Guid Id);
