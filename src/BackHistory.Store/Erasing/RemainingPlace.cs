namespace BackHistory.Store.Erasing;

/// <param name="Kind">See <see cref="LeftBehind"/>.</param>
/// <param name="Id">Of the note, comment, letter or import.</param>
/// <param name="At">When the note was written as it stood; null for what is not corrected in place.</param>
public sealed record RemainingPlace(string Kind, Guid Id, Guid? HorseId, string Why, DateTimeOffset? At);
