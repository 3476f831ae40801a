namespace BackHistory.History.Horses;

/// <summary>
/// An event of which a read model could not work something out. It stays in the history; what follows from it is missing here until it is
/// withdrawn or until a release can work it out, and the read model says so instead of standing still.
/// </summary>
/// <param name="What">The event's alias.</param>
/// <param name="Why">In a person's words.</param>
public sealed record SetAsideEvent(Guid EventId, long Sequence, string What, DateTimeOffset RecordedAt, string Why);
