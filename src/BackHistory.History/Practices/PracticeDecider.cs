using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Trends;

namespace BackHistory.History.Practices;

public sealed record FoundPractice(Guid PracticeId, string Name, string TimeZone, bool Invented, Guid By);

public sealed record ChangeReminderRules(ReminderRules Rules, string Reason, Guid By);

/// <param name="Source">Checked by the caller, who knows the template language; null returns to the shipped words.</param>
public sealed record ChangeLetterTemplate(LetterKind Kind, string Language, string? Source, Guid By);

public sealed record ChangeWatchRules(WatchRules Rules, string Reason, Guid By);

/// <summary>Decides what follows from a command about the practice itself. Pure.</summary>
public static class PracticeDecider
{
    public static readonly Refused NoSuchPractice = new("no-such-practice", "There is no such practice.", RefusalKind.NotFound);

    /// <returns>Why these rules cannot be used, in a person's words; null when they can.</returns>
    public static string? ProblemOf(ReminderRules rules) => ReminderRulesCheck.Problem(rules);

    /// <inheritdoc cref="ProblemOf(ReminderRules)"/>
    public static string? ProblemOf(WatchRules rules) => RulesCheck.Problem(rules);

    public static Decided Decide(Practice? practice, FoundPractice c, DateTimeOffset now)
    {
        if (practice is not null) return Decided.No("already-founded", "This practice exists already.", RefusalKind.Conflict);
        if (string.IsNullOrWhiteSpace(c.Name) || c.Name.Length > 120) return Decided.No("no-name", "A practice needs a name of up to 120 letters.");
        if (!TimeZoneInfo.TryFindSystemTimeZoneById(c.TimeZone, out _)) return Decided.No("unknown-time-zone", $"'{c.TimeZone}' is no IANA time zone.");
        return Decided.Yes(new PracticeFounded(c.PracticeId, c.Name.Trim(), c.TimeZone, c.Invented, now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeWatchRules c, DateTimeOffset now)
    {
        if (practice is null) return NoSuchPractice;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        if (RulesCheck.Problem(c.Rules) is { } problem) return Decided.No("bad-rules", problem);
        return Decided.Yes(new WatchRulesChanged(practice.RulesVersion + 1, c.Rules, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeReminderRules c, DateTimeOffset now)
    {
        if (practice is null) return NoSuchPractice;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        if (ReminderRulesCheck.Problem(c.Rules) is { } problem) return Decided.No("bad-rules", problem);
        return Decided.Yes(new ReminderRulesChanged(practice.ReminderRulesVersion + 1, c.Rules, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Practice? practice, ChangeLetterTemplate c, DateTimeOffset now)
    {
        if (practice is null) return NoSuchPractice;
        if (c.Language is not ("en" or "de")) return Decided.No("unknown-language", "Letters are written in en or de.");
        if (c.Source?.Length > 20_000) return Decided.No("too-long", "A letter's words are 20 000 letters at most.");
        var own = practice.Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(c.Kind, c.Language));
        if (own?.Source == c.Source) return Decided.Yes();
        return Decided.Yes(new LetterTemplateChanged(c.Kind, c.Language, (own?.Version ?? 0) + 1, c.Source, now, c.By));
    }
}
