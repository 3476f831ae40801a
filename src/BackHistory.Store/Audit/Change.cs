namespace BackHistory.Store.Audit;

/// <summary>One change: an event of the practice, as it was recorded.</summary>
/// <param name="By">The person who gave the command; who measured can be another.</param>
/// <param name="What">The event's alias.</param>
public sealed record Change(long Sequence, DateTimeOffset At, Guid By, string What, Guid? HorseId, string Says);
