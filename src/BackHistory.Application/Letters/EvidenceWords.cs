using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Application.Letters;

/// <summary>The numbers of a reminder in words, for those who want to know how a finding is known.</summary>
public static class EvidenceWords
{
    public static IReadOnlyList<string> Details(Evidence e, ReportLanguage language)
    {
        if (e.P is not { } p)
            return [];
        var said = new List<string>();
        var chance = language.Chance(p);
        var count = e.Watched ?? 1;
        said.Add(count > 1 ? language["evidence-words.chance-of-many", count, chance] : language["evidence-words.chance-of-one", chance]);
        if (e.Baseline is { } day)
            said.Add(language["evidence-words.changes-are-counted-from", language.Date(day)]);
        return said;
    }

    public static IReadOnlyList<LetterNumber> Numbers(Evidence e, Formatter say)
    {
        if (e.Numbers is { Count: > 0 } numbers)
            return [.. numbers.Select(n => One(n, say))];
        if (e is not { Measure: { } measure, Unit: { } unit, Change: { } change, Sd: { } sd, Threshold: { } threshold })
            return [];
        // Reminders of old kept the change alone.
        return [new LetterNumber(say.Subject(measure, e.Station), say.Change(change, sd, unit), "", Limit(threshold, unit, say))];
    }

    private static LetterNumber One(EvidenceNumber n, Formatter say) =>
        new(
            say.Subject(n.Measure, n.Station),
            Level(n.Now, n.NowSd, n.Unit, say),
            Level(n.AtFit, n.AtFitSd, n.Unit, say),
            Limit(n.Threshold, n.Unit, say)
        );

    private static string Level(double? value, double? sd, string unit, Formatter say) =>
        value is not { } v ? say.Language["evidence-words.not-known"]
        : sd is { } s ? say.Level(v, s, unit)
        : say.Number(v, unit);

    private static string Limit(double threshold, string unit, Formatter say) =>
        say.Language["evidence-words.we-act-from-a", say.Number(threshold, unit)];
}
