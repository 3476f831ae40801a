namespace BackHistory.History.Notes;

/// <summary>
/// Words that somebody wrote: a veterinary note, an owner's answer. Kept beside the event that names it, so that it can be erased when it
/// tells of a person; the event stays.
/// </summary>
/// <param name="About">The people of whom it tells; whose erasure takes the words with it.</param>
public sealed record Note(Guid Id, string Words, IReadOnlyList<Guid> About, Guid By, DateTimeOffset At)
{
    private const int Most = 4000;

    public static Refused? OfWords(string? words) =>
        words?.Length > Most ? new("too-long", $"Keep a note under {Most} letters; attach a document for more.", Place: "words") : null;

    /// <summary>The note, or nothing where there are no words.</summary>
    public static Note? From(Guid id, string? words, IReadOnlyList<Guid>? about, Guid by, DateTimeOffset at) =>
        string.IsNullOrWhiteSpace(words) ? null : new Note(id, words.Trim(), about ?? [], by, at);
}
