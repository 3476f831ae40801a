using System.Globalization;
using BackHistory.Application.Practices;
using BackHistory.Application.Trends;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Sharing;
using BackHistory.Language.Decisions;
using BackHistory.Language.Reminders;
using BackHistory.Language.Visits;
using BackHistory.Reports.Sheets;
using BackHistory.Reports.Sheets.Content;
using BackHistory.Service.Compare;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Store.Saddles;

namespace BackHistory.Service.Sharing;

/// <summary>What whoever treats a horse sees of it in words: the finding, what happened, and all of it as a paper to keep.</summary>
public sealed class SharedRecord(
    HorseData data,
    HorseQueries horses,
    PracticeQueries practices,
    SaddleQueries saddles,
    ReminderQueries reminders,
    Comparison compare
)
{
    /// <summary>The finding as a sentence for whoever reads. While a caution stands that is the finding: nobody is told to have the saddle
    /// seen to before a vet has looked.</summary>
    public static string Finding(HorseRecord horse, Reminder? caution, SharedScope scope, ReportLanguage language)
    {
        if (caution is not null)
            return ReminderSentences.SentenceOf(caution.Rule, caution.Evidence, horse.Profile.Name, language);
        var said = horse.Assessment?.Worst?.Decision.InWords(horse.Practice.WatchBy(), horse.Practice.Units.Lengths, language);
        var kind = scope == SharedScope.Summary ? "owner" : "state";
        return said?.FirstOrDefault(s => s.Kind == kind)?.Text
            ?? said?.Select(s => s.Text).FirstOrDefault()
            ?? language[horse.Profile.Fits.Count == 0 ? "shared-page.not-set" : "shared-page.not-looked"];
    }

    /// <summary>The caution to see a vet that stands; null without one.</summary>
    public async Task<Reminder?> Caution(ShareContext sight, CancellationToken ct) =>
        ReminderPolicy.StandingCaution(await reminders.OfHorse(sight.Practice, sight.HorseId, ct));

    /// <summary>Sex, breed, year and height in one line.</summary>
    public static string Facts(HorseRecord horse, ReportLanguage language)
    {
        var h = horse.Profile;
        string?[] parts =
        [
            h.Sex is { } sex ? language.Name(sex) : null,
            h.Breed,
            h.Foaled is { } born ? language["shared-page.born", born.Year.ToString(CultureInfo.InvariantCulture)] : null,
            h.HeightMm is { } mm ? horse.Format(language).Height(mm, horse.Practice.Units.Heights) : null,
        ];
        return string.Join(" · ", parts.Where(p => !string.IsNullOrEmpty(p)));
    }

    /// <summary>Work, lay-offs and illness, latest first, each in a line.</summary>
    public static IReadOnlyList<DatedNote> Spans(HorseRecord horse, ReportLanguage language) =>
        [
            .. HorseCondition
                .Spans(horse, language)
                .OrderByDescending(s => s.From)
                .Select(s => new DatedNote(
                    s.From,
                    s.To is { } to
                        ? $"{s.Label}, {language["shared-page.span", language.Date(s.From), language.Date(to)]}"
                        : $"{s.Label}, {language["shared-page.span.since", language.Date(s.From)]}"
                )),
        ];

    /// <summary>What was done to its saddles, latest first.</summary>
    public async Task<IReadOnlyList<DatedNote>> SaddleWork(
        string practice,
        HorseRecord horse,
        ReportLanguage language,
        CancellationToken ct
    )
    {
        var called = (await saddles.Load(practice, horse.Profile.Fits.Select(f => f.SaddleId), ct)).ToDictionary(s => s.Id, s => s.Label);
        return
        [
            .. horse
                .Profile.Fits.OrderByDescending(f => f.TakenAt)
                .Select(f => new DatedNote(
                    horse.Day(f.TakenAt),
                    language[
                        f.Set ? "shared-page.saddle-work.set" : "shared-page.saddle-work.altered",
                        called.GetValueOrDefault(f.SaddleId, language["shared-page.saddle"])
                    ]
                )),
        ];
    }

    /// <summary>The record as a PDF; what this sight does not show is not there.</summary>
    /// <param name="station">Where the sections are looked at; the one that says most where null.</param>
    public async Task<IResult> Paper(ShareContext sight, string? station, CancellationToken ct)
    {
        if (sight.Scope < SharedScope.Trends || await data.Load(sight.Practice, sight.HorseId, ct) is not { } horse)
            return Problems.From(Pictures.NothingToDraw);
        var language = sight.Language;
        var at =
            station is { } asked && SharedCharts.StationsOf(horse).Contains(asked, StringComparer.Ordinal)
                ? asked
                : SharedCharts.StationOf(horse);
        if (HorseCondition.Chart(await HalfVolumes.AddTo(horse, horses, sight.Practice, ct), at, language) is not { } condition)
            return Problems.From(Pictures.NothingToDraw);
        var paper = VetReport.Write(
            new VetReportInput
            {
                Head = PaperHead.Of(horse.Practice, await practices.Contact(sight.Practice, ct), horse.Profile.Name, horse.Today, language),
                Finding = Finding(horse, await Caution(sight, ct), sight.Scope, language),
                Horse = Facts(horse, language),
                Condition = condition,
                Changes = await Changes(sight, horse, ct),
                History = [.. Spans(horse, language), .. await SaddleWork(sight.Practice, horse, language, ct)],
                Method = Method(horse, language),
            }
        );
        return Results.File(paper, "application/pdf", FormattableString.Invariant($"record-{horse.Today:yyyy-MM-dd}.pdf"));
    }

    /// <summary>Between the visit to which the saddle was set, or the first, and the last one.</summary>
    private async Task<IReadOnlyList<ChangeRow>> Changes(ShareContext sight, HorseRecord horse, CancellationToken ct)
    {
        var visits = horse.Visits.Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt).ToList();
        if (visits.Count < 2)
            return [];
        var then = horse.Assessment?.Worst?.BaselineVisit is { } set && visits.Any(v => v.Id == set) ? set : visits[0].Id;
        return then == visits[^1].Id || await compare.Load(sight.Practice, sight.HorseId, $"{then},{visits[^1].Id}", ct) is not { } compared
            ? []
            : compared.Rows(horse.Format(sight.Language));
    }

    private static IReadOnlyList<string> Method(HorseRecord horse, ReportLanguage language)
    {
        var visits = horse.Visits.Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt).ToList();
        if (visits.Count == 0)
            return [];
        var methods = string.Join(", ", visits.Select(v => MethodWords.InWords(v.Method, language)).Distinct(StringComparer.Ordinal));
        var (first, last) = (language.Date(horse.Day(visits[0].TakenAt)), language.Date(horse.Day(visits[^1].TakenAt)));
        return
        [
            language["shared-page.method", visits.Count, first, last, methods],
            language["number.spread"],
            language["shared-page.method.noise"],
        ];
    }
}
