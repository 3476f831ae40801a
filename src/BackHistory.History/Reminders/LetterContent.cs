namespace BackHistory.History.Reminders;

/// <summary>
/// A letter as it was composed, kept from the first attempt on so that every attempt sends the same. It holds names, so it is a document that can be
/// erased and no event.
/// </summary>
/// <param name="Id">The letter's id.</param>
public sealed record LetterContent(
    Guid Id, string ToName, string ToAddress, string Subject, string Html, string Text, IReadOnlyList<LetterPicture> Pictures, string StopUrl, DateTimeOffset ComposedAt,
    int Attempts = 0, DateTimeOffset? NotBefore = null, string? LastError = null, LetterCalendar? Calendar = null);

/// <param name="Method">REQUEST or CANCEL.</param>
public sealed record LetterCalendar(string Method, string Text);

/// <param name="ContentId">As the HTML names it after <c>cid:</c>.</param>
public sealed record LetterPicture(string ContentId, string Alt, byte[] Png);
