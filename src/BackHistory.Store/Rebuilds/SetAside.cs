namespace BackHistory.Store.Rebuilds;

/// <summary>One event from which something could not be worked out, and where that is missing.</summary>
/// <param name="What">The event's alias.</param>
/// <param name="Why">In a person's words.</param>
public sealed record SetAside(Guid? HorseId, Guid? VisitId, Guid? EntryId, string What, DateTimeOffset RecordedAt, string Why);
