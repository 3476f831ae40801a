using BackHistory.History.Horses;
using BackHistory.Shape.Analysis;
using BackHistory.Store.Horses;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Application.Trends;

/// <summary>Cross-sections of one station: the one the saddle was set to and the latest, or that of a chosen day.</summary>
public static class SectionCurves
{
    /// <summary>Earliest first; one curve when there is only one, none when the station was never traced.</summary>
    /// <param name="on">The day whose tracing is "now"; null takes the last.</param>
    /// <param name="fittedOn">The day of the fit that is spoken of; null takes that of the saddle that the horse's state rests on.</param>
    public static async Task<IReadOnlyList<TracedSection>> Load(
        HorseQueries horses,
        string practice,
        HorseRecord horse,
        string station,
        CancellationToken ct,
        ReportLanguage language = default,
        DateOnly? on = null,
        DateOnly? fittedOn = null
    )
    {
        var chosen = Chosen(horse, station, on, fittedOn);
        if (chosen.Count == 0)
            return [];
        var tracings = await horses.TracingsAt(practice, horse.Profile.Id, [.. chosen.Select(x => x.Entry.Version)], ct);
        var drawn = new List<TracedSection>();
        foreach (var (visit, entry, atFit) in chosen)
        {
            if (tracings.TryGetValue(entry.Version, out var tracing) && TracingAnalysis.Analyse(tracing).Contour is { } contour)
                drawn.Add(new(HorseCharts.Section(language.Date(horse.Day(visit.TakenAt)), contour), atFit));
        }

        return drawn;
    }

    /// <summary>Whether the earlier of two is the back that the saddle was set to; otherwise it is only the first that was
    /// traced.</summary>
    public static bool BeginsAtFit(HorseRecord horse, string station) => Chosen(horse, station, null, null) is [{ AtFit: true }, _];

    private static List<(VisitRecord Visit, EntryRecord Entry, bool AtFit)> Chosen(
        HorseRecord horse,
        string station,
        DateOnly? on,
        DateOnly? fittedOn
    )
    {
        var (fitted, atFit) = FittedVisit(horse, fittedOn);
        var traced = horse
            .Visits.Where(v => !v.Withdrawn)
            .Select(v => (Visit: v, Entry: v.Entries.LastOrDefault(e => e.Stands && e.Kind == "cross-section" && e.Station == station)!))
            .Where(x => x.Entry is not null)
            .OrderBy(x => x.Visit.TakenAt)
            .Select(x => (x.Visit, x.Entry, AtFit: atFit && x.Visit.Id == fitted))
            .ToList();
        if (traced.Count == 0)
            return [];
        var then = traced.Find(x => x.Visit.Id == fitted);
        if (then.Visit is null)
            then = traced[0];
        var now = on is { } day ? traced.FindLast(x => horse.Day(x.Visit.TakenAt) == day) : default;
        if (now.Visit is null)
            now = traced[^1];
        // The earlier one is drawn first, whichever was asked for.
        if (now.Visit.TakenAt < then.Visit.TakenAt)
            (then, now) = (now, then);
        return then.Visit.Id == now.Visit.Id ? [now] : [then, now];
    }

    /// <summary>The visit to which the saddle was set, or else the one nearest to the day of the fit, which is not said to be it.</summary>
    private static (Guid? Visit, bool AtFit) FittedVisit(HorseRecord horse, DateOnly? fittedOn)
    {
        if (fittedOn is not { } day)
            return (horse.Assessment?.Worst?.BaselineVisit, true);
        if (horse.Assessment?.Saddles.FirstOrDefault(s => s.Decision.BaselineOn == day)?.BaselineVisit is { } known)
            return (known, true);
        var standing = horse.Visits.Where(v => !v.Withdrawn).ToList();
        var near = Baseline.Choose(day, standing.Select(v => horse.Day(v.TakenAt)), horse.Practice.WatchBy());
        return near is null ? (null, false) : (standing.FindLast(v => horse.Day(v.TakenAt) == near.Visit)!.Id, near.DaysOff == 0);
    }
}
