using BackHistory.History.Practices;
using BackHistory.Reports.Charts.Content;
using BackHistory.Shape.Analysis;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Trends;

/// <summary>Cross-sections of one station: the one the saddle was set to and the latest, or that of a chosen day.</summary>
public static class SectionCurves
{
    /// <summary>Earliest first; one curve when there is only one, none when the station was never traced.</summary>
    public static async Task<IReadOnlyList<SectionCurve>> Of(
        HorseQueries horses,
        string practice,
        HorseRecord horse,
        string station,
        CancellationToken ct,
        ReportLanguage language = default,
        DateOnly? on = null
    )
    {
        var traced = horse
            .Visits.Where(v => !v.Withdrawn)
            .Select(v => (Visit: v, Entry: v.Entries.LastOrDefault(e => e.Stands && e.Kind == "cross-section" && e.Station == station)))
            .Where(x => x.Entry is not null)
            .OrderBy(x => x.Visit.TakenAt)
            .ToList();
        if (traced.Count == 0)
            return [];
        var baseline = horse.Assessment?.Worst?.BaselineVisit;
        var then = traced.FirstOrDefault(x => x.Visit.Id == baseline);
        if (then.Visit is null)
            then = traced[0];
        var now = traced.LastOrDefault(x =>
            on is { } day && DateOnly.FromDateTime(PracticeClock.Local(horse.Practice, x.Visit.TakenAt).Date) == day
        );
        if (now.Visit is null)
            now = traced[^1];
        // The earlier one is drawn first, whichever was asked for.
        if (now.Visit.TakenAt < then.Visit.TakenAt)
            (then, now) = (now, then);
        var chosen = then.Visit.Id == now.Visit.Id ? new[] { now } : [then, now];
        var tracings = await horses.TracingsAt(practice, horse.Profile.Id, [.. chosen.Select(x => x.Entry!.Version)], ct);
        return
        [
            .. chosen
                .Select(x =>
                    (
                        x.Visit,
                        Contour: tracings.TryGetValue(x.Entry!.Version, out var tracing) ? TracingAnalysis.Analyse(tracing).Contour : null
                    )
                )
                .Where(x => x.Contour is not null)
                .Select(x =>
                    HorseCharts.Section(
                        language.Date(DateOnly.FromDateTime(PracticeClock.Local(horse.Practice, x.Visit.TakenAt).Date)),
                        x.Contour!
                    )
                ),
        ];
    }
}
