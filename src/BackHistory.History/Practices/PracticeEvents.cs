using BackHistory.History.Reminders;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Practices;

/// <summary>What can happen to a practice: its own rules and tables, each with a version.</summary>
public interface IPracticeEvent : IHappened;

/// <summary>A practice began to use the service.</summary>
/// <param name="TimeZone">IANA name; pages and calendar days are the practice's own.</param>
public sealed record PracticeFounded(Guid PracticeId, string Name, string TimeZone, bool Invented, DateTimeOffset TakenAt, Guid By)
    : IPracticeEvent;

/// <summary>The practice's name and time zone as they stand after a correction.</summary>
public sealed record PracticeDetailsCorrected(string Name, string TimeZone, string Reason, DateTimeOffset TakenAt, Guid By)
    : IPracticeEvent;

/// <summary>In what lengths and heights are said from now on.</summary>
public sealed record DisplayUnitsChosen(LengthUnit Lengths, HeightUnit Heights, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>The thresholds, noise and intervals that the practice watches by, whole, from now on.</summary>
public sealed record WatchRulesChanged(int RulesVersion, WatchRules Rules, string Reason, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>Which reminders the practice raises and when people hear of them, whole, from now on.</summary>
public sealed record ReminderRulesChanged(int ReminderRulesVersion, ReminderRules Rules, string Reason, DateTimeOffset TakenAt, Guid By)
    : IPracticeEvent;

/// <summary>The practice's own words for one kind of letter in one language.</summary>
/// <param name="Source">In the template language of the letters; null returns to the words that come with the program.</param>
public sealed record LetterTemplateChanged(
    LetterKind Kind,
    string Language,
    int TemplateVersion,
    string? Source,
    DateTimeOffset TakenAt,
    Guid By
) : IPracticeEvent
{
    [System.Text.Json.Serialization.JsonIgnore]
    public string Key => KeyOf(Kind, Language);

    public static string KeyOf(LetterKind kind, string language) => $"{kind}.{language}";
}

/// <summary>Somebody looked at the practice's first letters and let them go; from now on letters leave by themselves.</summary>
public sealed record LettersReleased(DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>What the practice's own horses taught of how backs move; decisions rest on it from now on.</summary>
/// <param name="RulesVersion">Counts with the rules: either changes what is said of a horse.</param>
public sealed record PriorsLearned(int RulesVersion, LearnedPriors Priors, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>What the practice's own repeats taught of its hands; decisions rest on it from now on.</summary>
/// <param name="RulesVersion">Counts with the rules.</param>
public sealed record NoiseLearned(int RulesVersion, LearnedNoise Noise, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>The stations at which the practice traces, whole, from now on; a visit names the version it used.</summary>
public sealed record ProtocolChanged(int ProtocolVersion, IReadOnlyList<Station> Stations, DateTimeOffset TakenAt, Guid By)
    : IPracticeEvent;

/// <summary>A workshop's table of its own marks against degrees or millimetres, whole, as it is read from now on.</summary>
/// <param name="Key">As saddles name it.</param>
/// <param name="Measure">What it reads: <c>slope</c> for one side at a time, or a measure's key.</param>
/// <param name="Unit"><c>deg</c> or <c>mm</c>.</param>
public sealed record GaugeTableChanged(
    string Key,
    int TableVersion,
    string Name,
    string Measure,
    string Unit,
    IReadOnlyList<GaugeMark> Marks,
    string Reason,
    DateTimeOffset TakenAt,
    Guid By
) : IPracticeEvent;

/// <summary>A gauge is no longer used; settings that name it stay readable.</summary>
public sealed record GaugeTableRetired(string Key, string Reason, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>The practice measured horses again and again to learn how far its own hands repeat themselves.</summary>
/// <param name="Raters">Who measured, in the order of the columns; empty where one person did it all.</param>
/// <param name="Subjects">A row a horse, a column a rater or a repeat; in the measure's unit.</param>
public sealed record RepeatabilityStudied(
    Guid StudyId,
    string Measure,
    string? Station,
    string Method,
    IReadOnlyList<Guid> Raters,
    IReadOnlyList<IReadOnlyList<double>> Subjects,
    DateTimeOffset TakenAt,
    Guid By
) : IPracticeEvent;

/// <summary>The practice set out to measure some horses again and again; each is recorded as a visit of that horse.</summary>
/// <param name="Horses">How many are meant to be measured.</param>
/// <param name="Times">How often each at one visit.</param>
public sealed record RepeatabilityStudyBegun(Guid StudyId, string Method, int Horses, int Times, DateTimeOffset TakenAt, Guid By)
    : IPracticeEvent;

/// <summary>A visit at which a horse was measured again and again counts towards a study.</summary>
public sealed record RepeatedVisitCounted(Guid StudyId, Guid HorseId, Guid VisitId, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>All horses of a study are measured; from now on the practice is judged by its own hands where it has repeats enough.</summary>
public sealed record RepeatabilityStudyFinished(Guid StudyId, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>A study of repeatability does not stand.</summary>
public sealed record RepeatabilityStudyWithdrawn(Guid StudyId, string Reason, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>A person's data were erased at their request; what is left of them is this id.</summary>
public sealed record PersonErased(Guid PersonId, DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

/// <summary>A place at which a cross-section is traced.</summary>
/// <param name="Key">For example <c>behind-shoulder</c>.</param>
/// <param name="Where">In words, for the person who looks for it.</param>
/// <param name="FromDatumMm">Distance from the datum towards the tail; null where it is found by hand.</param>
public sealed record Station(string Key, string Where, double? FromDatumMm);
