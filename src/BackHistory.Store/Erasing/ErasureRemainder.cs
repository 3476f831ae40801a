namespace BackHistory.Store.Erasing;

/// <summary>
/// What an erasure left because it names the person, kept by ids: afterwards nobody knows any more what to look for. No words and no name
/// stand here; an entry counts as long as what it is about is there.
/// </summary>
/// <param name="Id">The erased person's.</param>
/// <param name="StillFound">As it was counted then; null where the erasure was interrupted before.</param>
public sealed record ErasureRemainder(Guid Id, IReadOnlyList<RemainingPlace> Places, IReadOnlyList<FoundIn>? StillFound);
