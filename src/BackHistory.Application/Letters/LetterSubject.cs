using BackHistory.Application.Trends;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>What a letter about one horse is about, and who reads it.</summary>
internal sealed record LetterSubject(string Practice, Reminder Reminder, HorseRecord Horse, Person Reader)
{
    public ReportLanguage Language => ReportLanguage.Of(Reader.Language);

    /// <summary>The clock on the reader's wall.</summary>
    public TimeZoneInfo Zone =>
        TimeZoneInfo.TryFindSystemTimeZoneById(Reader.TimeZone ?? Horse.Practice.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
}
