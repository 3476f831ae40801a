namespace BackHistory.Store.Archives;

/// <param name="Horses">The horse, and its second registrations.</param>
/// <param name="Streams">Every history that is in it.</param>
public sealed record ArchiveScope(IReadOnlySet<Guid> Horses, IReadOnlySet<Guid> Streams);
