namespace BackHistory.History.Reminders.Digests;

/// <summary>One digest that is due: its id follows from what it is about, so that it is owed once however often that is found.</summary>
public sealed record DueDigest(Guid Id, LetterKind Kind, Guid To, DateOnly On);
