namespace BackHistory.Store.Erasing;

/// <summary>Something that an erasure left, for somebody to look at: what it is, where it lies and why it was left. Nothing of it is
/// erased by itself.</summary>
/// <param name="Kind"><c>note</c>, <c>comment</c>, <c>answer</c>, <c>letter</c>, <c>sent-letters</c>, <c>table</c> or
/// <c>link</c>.</param>
/// <param name="Id">Of the note, comment, letter, import or link.</param>
/// <param name="Words">What it says, as far as it helps to judge; null where it says nothing.</param>
public sealed record LeftBehind(string Kind, Guid? Id, Guid? HorseId, string? Words, string Why);
