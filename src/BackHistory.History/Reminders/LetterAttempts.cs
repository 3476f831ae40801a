namespace BackHistory.History.Reminders;

/// <summary>A letter that could not leave so far: how often it was tried, and when it is tried again.</summary>
/// <param name="Id">The letter's id.</param>
/// <param name="Why">Without anything personal.</param>
public sealed record LetterAttempts(Guid Id, int Count, DateTimeOffset NotBefore, string Why)
{
    /// <summary>A letter that failed so often is given up.</summary>
    public const int Most = 12;

    /// <summary>The next attempt, after pauses that grow to four hours.</summary>
    public static LetterAttempts After(LetterAttempts? earlier, Guid letterId, string why, DateTimeOffset now)
    {
        var count = (earlier?.Count ?? 0) + 1;
        return new LetterAttempts(letterId, count, now + TimeSpan.FromMinutes(Math.Min(240, Math.Pow(2, count))), why);
    }
}
