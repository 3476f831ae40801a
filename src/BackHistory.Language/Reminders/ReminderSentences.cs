using BackHistory.History.Reminders;
using BackHistory.Trends.Rules;

namespace BackHistory.Language.Reminders;

/// <summary>
/// What a reminder says to somebody who knows the horse and not the measures: one plain sentence in their language. No number of
/// statistics stands in it; those are shown apart, for those who want them.
/// </summary>
public static class ReminderSentences
{
    /// <summary>As it is kept in the history.</summary>
    public static string InEnglish(ReminderRule rule, Evidence evidence, string horse) =>
        SentenceOf(rule, evidence, horse, ReportLanguage.English);

    /// <param name="evidence">What was found: facts only.</param>
    public static string SentenceOf(ReminderRule rule, Evidence evidence, string horse, ReportLanguage language)
    {
        var happened = Happened(evidence.Finding, horse, language);
        var since = evidence.Baseline is { } set
            ? language["reminder.since.month", language.MonthAndYear(set)]
            : language["reminder.since"];
        return rule switch
        {
            ReminderRule.ShapeChanged or ReminderRule.SidesUnlike => language["reminder.shape", happened, since],
            ReminderRule.WeightChanged => language["reminder.weight", happened, since],
            ReminderRule.Growing => language["reminder.growing", happened, since],
            ReminderRule.FastLoss => language["reminder.fast-loss", horse, In("reminder.since-month", evidence.Baseline, language)],
            ReminderRule.NotRechecked => language["reminder.not-rechecked", horse, In("reminder.in-month", evidence.Baseline, language)],
            ReminderRule.VetCaution => language["reminder.vet-caution", happened, since],
            ReminderRule.MeasureAgain when evidence.Leans is { } tracings => language[
                "reminder.leans",
                horse,
                language.LongDate(tracings.On),
                language[tracings.Way == "left" ? "reminder.way.left" : "reminder.way.right"]
            ],
            ReminderRule.MeasureAgain => language["reminder.measure-again", horse, In("reminder.in-month", evidence.LastVisit, language)],
            ReminderRule.CheckDue or ReminderRule.NoVisit => Due(evidence, horse, language),
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "a rule without a sentence"),
        };
    }

    private static string Happened(Finding? finding, string horse, ReportLanguage language)
    {
        if (finding is null)
            return language["finding.unknown", horse];
        var side = finding.Side is null ? "" : language.Find("finding.side." + finding.Side) ?? "";
        return Words.Sentence(language[KeyOf(finding.Kind), horse, Place(finding.Station, language), side]);
    }

    private static string KeyOf(FindingKind kind) =>
        kind switch
        {
            FindingKind.Wider => "finding.wider",
            FindingKind.Narrower => "finding.narrower",
            FindingKind.Hollower => "finding.hollower",
            FindingKind.Fuller => "finding.fuller",
            FindingKind.LessAlike => "finding.less-alike",
            FindingKind.Lower => "finding.lower",
            FindingKind.Higher => "finding.higher",
            FindingKind.Heavier => "finding.heavier",
            FindingKind.Lighter => "finding.lighter",
            _ => "finding.changed",
        };

    /// <summary>With the space that parts it from its sentence.</summary>
    private static string Place(string? station, ReportLanguage language) =>
        station is null ? "" : language.Find("finding.place." + station) ?? language["finding.place.other", station.Replace('-', ' ')];

    private static string Due(Evidence evidence, string horse, ReportLanguage language)
    {
        if (evidence.LastVisit is not { } last)
            return language["reminder.never-measured", horse];
        var reason = evidence.Because switch
        {
            CheckReason.Forecast => language["reminder.because.forecast"],
            CheckReason.YoungHorse => language["reminder.because.young-horse"],
            CheckReason.OldHorse => language["reminder.because.old-horse"],
            CheckReason.BackFromLayOff => language["reminder.because.lay-off"],
            CheckReason.ChangingWork => language["reminder.because.work"],
            CheckReason.WeightChange => language["reminder.because.weight"],
            CheckReason.NewSaddle => language["reminder.because.new-saddle"],
            _ => "",
        };
        return language["reminder.due", horse, language.MonthAndYear(last), reason];
    }

    private static string In(string key, DateOnly? day, ReportLanguage language) =>
        day is { } d ? language[key, language.MonthAndYear(d)] : "";
}
