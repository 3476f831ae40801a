using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Trends;
using Marten;

namespace BackHistory.History.Practices;

/// <summary>Learns from the practice's own horses how backs move. What it finds is a proposal until it is recorded as an event.</summary>
public sealed class Learning(IDocumentStore store)
{
    /// <summary>The horses seen last teach most; more of them change nothing that matters and cost minutes.</summary>
    private const int MostHorses = 1500;

    private const int Page = 100;

    /// <returns>Null where there are too few horses to learn from.</returns>
    public async Task<LearnedPriors?> Learn(string practice, DateOnly today, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.Query<Practice>().FirstOrDefaultAsync(ct) is not { } rules) return null;
        var horses = await session.Query<HorseProfile>().Where(h => !h.Gone).OrderByDescending(h => h.LastVisitOn).Take(MostHorses).ToListAsync(ct);
        var periods = new List<FittedPeriod>();
        var series = new List<WatchedSeries>();
        foreach (var page in horses.Chunk(Page))
        {
            var ids = page.Select(h => h.Id).ToArray();
            var visits = (await session.Query<VisitRecord>().Where(v => v.HorseId.IsOneOf(ids)).ToListAsync(ct)).ToLookup(v => v.HorseId);
            foreach (var horse in page) Add(horse, [.. visits[horse.Id].Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt)], rules.Rules, today, periods, series);
        }

        return From(periods, series, rules.Rules, horses.Count, today);
    }

    /// <summary>Pure: from what was seen to what it teaches.</summary>
    internal static LearnedPriors? From(IReadOnlyList<FittedPeriod> periods, IReadOnlyList<WatchedSeries> series, WatchRules rules, int horses, DateOnly today)
    {
        var learned = MovementLearning.Learn(periods, rules);
        var drift = series.GroupBy(s => s.Measure, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (g.Key, Prior: DriftLearning.Learn([.. g])))
            .Where(d => d.Prior is not null).Select(d => new LearnedDrift(d.Key, d.Prior!.Median, d.Prior.LogSd)).ToList();
        if (ReferenceEquals(learned, rules) && drift.Count == 0) return null;
        var movement = CorrelationLearning.Learn(periods, learned);
        return new LearnedPriors(movement, [.. learned.Patterns.Select(p => new LearnedWeight(p.Name, p.Weight))], drift, horses, today);
    }

    private static void Add(HorseProfile horse, IReadOnlyList<VisitRecord> visits, WatchRules rules, DateOnly today, List<FittedPeriod> periods, List<WatchedSeries> series)
    {
        if (visits.Count == 0) return;
        var watched = Series.Of(visits, rules);
        series.AddRange(watched);
        foreach (var fits in horse.Fits.GroupBy(f => f.SaddleId))
        {
            var ordered = fits.OrderBy(f => f.TakenAt).ToList();
            for (var i = 0; i < ordered.Count; i++)
            {
                var until = i + 1 < ordered.Count ? TrendDays.DayNumber(ordered[i + 1].TakenAt) : TrendDays.EndOf(today);
                periods.Add(new FittedPeriod(watched, TrendDays.DayNumber(ordered[i].TakenAt), until));
            }
        }
    }
}
