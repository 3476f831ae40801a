using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>Decides what follows from a command about the practice itself. Pure.</summary>
public static partial class PracticeDecider
{
    private static readonly Refused NoSuchGauge = new("no-such-gauge", "There is no such gauge in use.", RefusalKind.NotFound);

    private static readonly Refused NoSuchStudy = new(
        "no-such-study",
        "There is no such study, or it was withdrawn already.",
        RefusalKind.NotFound
    );

    /// <returns>Why these rules cannot be used, in a person's words; null when they can.</returns>
    public static string? ProblemOf(ReminderRules rules) => ReminderRulesCheck.Problem(rules);

    /// <inheritdoc cref="ProblemOf(ReminderRules)"/>
    public static string? ProblemOf(WatchRules rules) => RulesCheck.Problem(rules);

    public static Decided Decide(Practice? practice, FoundPractice c, DateTimeOffset now)
    {
        if (practice is not null)
            return Decided.No("already-founded", "This practice exists already.", RefusalKind.Conflict);
        return OfDetails(c.Name, c.TimeZone) is { } bad
            ? bad
            : Decided.Yes(new PracticeFounded(c.PracticeId, c.Name.Trim(), c.TimeZone, c.Invented, now, c.By));
    }

    public static Decided Decide(Practice? practice, CorrectPractice c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (OfDetails(c.Name, c.TimeZone) is { } bad)
            return bad;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new PracticeDetailsCorrected(c.Name.Trim(), c.TimeZone, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, ChooseDisplayUnits c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        return practice.Units == new DisplayUnits(c.Lengths, c.Heights)
            ? Decided.Yes()
            : Decided.Yes(new DisplayUnitsChosen(c.Lengths, c.Heights, now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeWatchRules c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (RulesCheck.Problem(c.Rules) is { } problem)
            return Decided.No("bad-rules", problem);
        return Decided.Yes(
            new WatchRulesChanged(practice.RulesVersion + 1, c.Rules with { Learned = null, Repeats = null }, c.Reason.Trim(), now, c.By)
        );
    }

    public static Decided Decide(Practice? practice, ChangeReminderRules c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (ReminderRulesCheck.Problem(c.Rules) is { } problem)
            return Decided.No("bad-rules", problem);
        return Decided.Yes(new ReminderRulesChanged(practice.ReminderRulesVersion + 1, c.Rules, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeLetterTemplate c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        // Which languages there are is known at the door.
        if (c.Language is not { Length: >= 2 and <= 8 } || !c.Language.All(char.IsAsciiLetterLower))
            return Decided.No("unknown-language", "A language is named by its tag, for example en or de.");
        if (c.Source?.Length > 20_000)
            return Decided.No("too-long", "A letter's words are 20 000 letters at most.");
        var own = practice.Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(c.Kind, c.Language));
        if (own?.Source == c.Source)
            return Decided.Yes();
        return Decided.Yes(new LetterTemplateChanged(c.Kind, c.Language, (own?.Version ?? 0) + 1, c.Source, now, c.By));
    }

    public static Decided Decide(Practice? practice, ReleaseLetters c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        return practice.LettersReleasedAt is null ? Decided.Yes(new LettersReleased(now, c.By)) : Decided.Yes();
    }

    public static Decided Decide(Practice? practice, AdoptLearned c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        var events = new List<object>();
        if (c.Noise is { } noise && !Same(noise, practice.Noise))
            events.Add(new NoiseLearned(practice.RulesVersion + events.Count + 1, noise, now, c.By));
        if (c.Priors is { } priors && !Same(priors, practice.Priors))
            events.Add(new PriorsLearned(practice.RulesVersion + events.Count + 1, priors, now, c.By));
        return Decided.Yes(events);
    }

    public static Decided Decide(Practice? practice, ChangeProtocol c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        return StationsCheck.Problem(c.Stations) is { } bad
            ? bad
            : Decided.Yes(new ProtocolChanged(practice.ProtocolVersion + 1, c.Stations, now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeGaugeTable c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        // Gauges whose keys an earlier release took can still be corrected.
        if (GaugeRefusals.OfKey(c.Key, practice.Gauges.ContainsKey(c.Key)) is { } noKey)
            return noKey;
        if (GaugeRefusals.OfName(c.Name) is { } noName)
            return noName;
        if (!IsKey(c.Measure))
            return Decided.No("no-measure", "Say what the gauge reads: slope, or a measure's key such as opening.", place: "measure");
        if (c.Marks.Count > GaugeRefusals.MostMarks)
            return GaugeRefusals.TooManyMarks;
        if (c.Marks.Select(GaugeRefusals.OfMark).FirstOrDefault(r => r is not null) is { } bad)
            return bad;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (Gauge.Create(c.Name, c.Measure, c.Unit, c.Marks).Fault is { } fault)
            return Decided.No("bad-gauge", fault, place: "marks");
        var version = (practice.Gauges.GetValueOrDefault(c.Key)?.Version ?? 0) + 1;
        return Decided.Yes(new GaugeTableChanged(c.Key, version, c.Name.Trim(), c.Measure, c.Unit, c.Marks, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, RetireGaugeTable c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (practice.Gauges.GetValueOrDefault(c.Key) is not { Retired: false })
            return NoSuchGauge;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new GaugeTableRetired(c.Key, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, StudyRepeatability c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (practice.Studies.ContainsKey(c.StudyId))
            return Decided.No("study-exists", "This study was recorded already.", RefusalKind.Conflict);
        return StudyCheck.Problem(c, now) is { } bad
            ? bad
            : Decided.Yes(
                new RepeatabilityStudied(c.StudyId, c.Measure, c.Station, c.Method.Trim(), c.Raters, c.Subjects, c.TakenAt, c.By)
            );
    }

    public static Decided Decide(Practice? practice, WithdrawStudy c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (!practice.Studies.ContainsKey(c.StudyId) && !practice.GuidedStudies.ContainsKey(c.StudyId))
            return NoSuchStudy;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new RepeatabilityStudyWithdrawn(c.StudyId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, ErasePerson c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        // Asked for twice, erased once: what was missed the first time is erased by the second all the same.
        return practice.Erased.Contains(c.PersonId) ? Decided.Yes() : Decided.Yes(new PersonErased(c.PersonId, now, c.By));
    }

    internal static bool IsKey(string? key) => !string.IsNullOrWhiteSpace(key) && key.Length <= GaugeRefusals.LongestKey;

    /// <summary>By what is written of them: lists have no equality of their own.</summary>
    private static bool Same<T>(T learned, T? known)
        where T : class => known is not null && JsonSerializer.Serialize(learned) == JsonSerializer.Serialize(known);

    private static Refused? OfDetails(string name, string timeZone) =>
        ReadableName.IsMissing(name) || name.Length > 120 ? new("no-name", "A practice needs a name of up to 120 letters.", Place: "name")
        : !TimeZoneInfo.TryFindSystemTimeZoneById(timeZone, out _)
            ? new("unknown-time-zone", $"'{timeZone}' is no IANA time zone.", Place: "timeZone")
        : null;
}
