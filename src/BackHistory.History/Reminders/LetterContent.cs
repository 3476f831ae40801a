namespace BackHistory.History.Reminders;

/// <summary>
/// A letter as it was composed, kept from the first attempt on so that every attempt sends the same. It holds names, so it is a document
/// that can be erased and no event.
/// </summary>
/// <param name="Id">The letter's id.</param>
/// <param name="ReplyTo">Where an answer goes; null where it goes to the address that letters come from.</param>
public sealed record LetterContent(
    Guid Id,
    string ToName,
    string ToAddress,
    string Subject,
    string Html,
    string Text,
    IReadOnlyList<LetterPicture> Pictures,
    string StopUrl,
    DateTimeOffset ComposedAt,
    LetterCalendar? Calendar = null,
    string? ReplyTo = null
);
