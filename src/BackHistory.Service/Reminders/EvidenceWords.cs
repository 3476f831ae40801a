using BackHistory.History.Reminders;
using BackHistory.Reports;
using BackHistory.Reports.Letters;
using BackHistory.Service.Trends;
using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>The numbers of a reminder in words, for those who want to know how a finding is known.</summary>
public static class EvidenceWords
{
    public static IReadOnlyList<string> Details(Evidence e, ReportLanguage language)
    {
        if (e.P is not { } p) return [];
        var said = new List<string>();
        var chance = Say.Chance(p, language);
        var count = e.Watched ?? 1;
        said.Add(language.Pick(
            count > 1 ? $"Taken together, {count} measures give a chance of {chance} that at least one has moved further than we leave a saddle for." : $"The chance that it has moved further than we leave a saddle for is {chance}.",
            count > 1 ? $"{count} Messgrößen zusammen ergeben eine Wahrscheinlichkeit von {chance}, dass sich mindestens eine stärker verändert hat, als wir hinnehmen." : $"Die Wahrscheinlichkeit, dass sie sich stärker verändert hat, als wir hinnehmen, ist {chance}."));
        if (e.Baseline is { } day)
            said.Add(language.Pick($"Changes are counted from {language.Date(day)}, when the saddle was set. What stands after ± is one standard deviation.", $"Verglichen wird mit dem {language.Date(day)}, als der Sattel eingestellt wurde. Hinter ± steht eine Standardabweichung."));
        return said;
    }

    public static IReadOnlyList<LetterNumber> Numbers(Evidence e, ReportLanguage language)
    {
        if (e.Numbers is { Count: > 0 } numbers) return [.. numbers.Select(n => One(n, language))];
        if (e is not { Measure: { } measure, Unit: { } unit, Change: { } change, Sd: { } sd, Threshold: { } threshold }) return [];
        // Reminders of old kept the change alone.
        return [new LetterNumber(MeasureWords.Subject(measure, e.Station, language), Say.Change(change, sd, unit, language), "", Limit(threshold, unit, language))];
    }

    private static LetterNumber One(EvidenceNumber n, ReportLanguage language) => new(
        MeasureWords.Subject(n.Measure, n.Station, language), Level(n.Now, n.NowSd, n.Unit, language), Level(n.AtFit, n.AtFitSd, n.Unit, language), Limit(n.Threshold, n.Unit, language));

    private static string Level(double? value, double? sd, string unit, ReportLanguage language) =>
        value is not { } v ? language.Pick("not known", "nicht bekannt") : sd is { } s ? Say.Level(v, s, unit, language) : Say.Number(v, unit, language);

    private static string Limit(double threshold, string unit, ReportLanguage language) =>
        language.Pick($"we act from a change of {Say.Number(threshold, unit, language)}", $"wir handeln ab einer Änderung von {Say.Number(threshold, unit, language)}");
}
