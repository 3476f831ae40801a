using BackHistory.History.Sharing;

namespace BackHistory.Store.Sharing;

/// <summary>What somebody outside the practice wrote about a horse. Kept beside the events, so that it can be erased.</summary>
/// <param name="PersonId">Who wrote it, where that is known; whoever holds a link is known by the link only.</param>
public sealed record Comment(Guid Id, Guid HorseId, Guid? PersonId, SharedWith Role, string Words, DateTimeOffset At);
