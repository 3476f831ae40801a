using BackHistory.History.Reminders;
using BackHistory.Trends;

namespace BackHistory.History.Practices;

/// <summary>What can happen to a practice: its own rules and tables, each with a version.</summary>
public interface IPracticeEvent : IHappened;

/// <param name="TimeZone">IANA name; pages and calendar days are the practice's own.</param>
public sealed record PracticeFounded(Guid PracticeId, string Name, string TimeZone, bool Invented, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>The thresholds and intervals that the practice watches by, whole, from now on.</summary>
public sealed record WatchRulesChanged(int RulesVersion, WatchRules Rules, string Reason, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>Which reminders the practice raises and when people hear of them, whole, from now on.</summary>
public sealed record ReminderRulesChanged(int ReminderRulesVersion, ReminderRules Rules, string Reason, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>The practice's own words for one kind of letter in one language.</summary>
/// <param name="Source">In the template language of the letters; null returns to the words that come with the program.</param>
public sealed record LetterTemplateChanged(LetterKind Kind, string Language, int TemplateVersion, string? Source, DateTimeOffset TakenAt, Guid By) : IPracticeEvent
{
    [System.Text.Json.Serialization.JsonIgnore]
    public string Key => KeyOf(Kind, Language);

    public static string KeyOf(LetterKind kind, string language) => $"{kind}.{language}";
}

/// <summary>The stations at which the practice traces, whole, from now on.</summary>
public sealed record ProtocolChanged(int ProtocolVersion, IReadOnlyList<Station> Stations, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <param name="Key">For example <c>behind-shoulder</c>.</param>
/// <param name="Where">In words, for the person who looks for it.</param>
/// <param name="FromDatumMm">Distance from the datum towards the tail; null where it is found by hand.</param>
public sealed record Station(string Key, string Where, double? FromDatumMm);
