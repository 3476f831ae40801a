using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Trends.Learning;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>From a horse's visits and fits to what a practice learns from. Pure.</summary>
public static class FittedPeriods
{
    /// <summary>From each fit of a saddle to its next, or until today.</summary>
    public static IEnumerable<FittedPeriod> PeriodsOf(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        WatchRules rules,
        TimeZoneInfo zone,
        DateOnly today
    )
    {
        if (visits.Count == 0)
            yield break;
        var watched = Series.SeriesFrom(visits, rules, zone);
        foreach (var fits in horse.Fits.GroupBy(f => f.SaddleId))
        {
            var ordered = SaddleFit.Counting([.. fits]).OrderBy(f => f.TakenAt).ToList();
            for (var i = 0; i < ordered.Count; i++)
            {
                var until = i + 1 < ordered.Count ? TrendDays.DayNumber(ordered[i + 1].TakenAt, zone) : TrendDays.EndOf(today);
                yield return new FittedPeriod(watched, TrendDays.DayNumber(ordered[i].TakenAt, zone), until);
            }
        }
    }
}
