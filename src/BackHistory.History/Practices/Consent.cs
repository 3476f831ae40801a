namespace BackHistory.History.Practices;

/// <summary>What somebody said when they were asked, as it was written down: beside the events, so that it goes with the person.</summary>
/// <param name="Given">Given, or refused and withdrawn.</param>
/// <param name="On">The day on which they said so.</param>
/// <param name="Words">What they said, or how: "signed the sheet", "on the telephone".</param>
/// <param name="NotedAt">When it was written down.</param>
/// <param name="By">Who wrote it down.</param>
public sealed record Consent(ConsentKind Kind, bool Given, DateOnly On, string Words, DateTimeOffset NotedAt, Guid By)
{
    public const int LongestWords = 400;

    /// <summary>Somebody who changes their mind every year for a life stays below.</summary>
    public const int MostOfAPerson = 200;

    /// <summary>Why it cannot be kept; null when it can.</summary>
    /// <param name="today">The practice's day: nobody has said anything later yet.</param>
    public Refused? Problem(DateOnly today) =>
        !Enum.IsDefined(Kind) ? new("unknown-consent", "Choose what they were asked about.", Place: "kind")
        : string.IsNullOrWhiteSpace(Words) || Words.Length > LongestWords
            ? new("no-words", $"Say in up to {LongestWords} letters how they said so: signed the sheet, on the telephone.", Place: "words")
        : On > today ? new("later-than-today", "That day has not come yet.", Place: "day")
        : On.Year < 1950 ? new("long-ago", "That is longer ago than anybody was asked. Is the year right?", Place: "day")
        : null;
}
