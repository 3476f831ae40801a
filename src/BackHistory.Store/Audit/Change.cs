using BackHistory.History.Timeline;

namespace BackHistory.Store.Audit;

/// <summary>One change: an event of the practice, as it was recorded.</summary>
/// <param name="By">The person who gave the command; who measured can be another.</param>
/// <param name="What">The event's alias, as it lies in the store.</param>
/// <param name="Alias">The same as it is called today.</param>
/// <param name="Fact">What the timeline tells of it; null of what happened to no horse.</param>
public sealed record Change(long Sequence, DateTimeOffset At, Guid By, string What, Guid? HorseId, string Alias, TimelineFact? Fact);
