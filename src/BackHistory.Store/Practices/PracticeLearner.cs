using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Learning;
using BackHistory.Trends.Repeats;
using BackHistory.Trends.Rules;
using Marten;

namespace BackHistory.Store.Practices;

/// <summary>Learns from the practice's own horses how backs move, and from its own repeats how its hands err. What it finds stands once
/// it is recorded as an event.</summary>
public sealed class PracticeLearner(IDocumentStore store)
{
    /// <summary>The horses seen last teach most; more of them change nothing that matters and cost minutes.</summary>
    private const int MostHorses = 1500;

    private const int Page = 100;

    public async Task<(LearnedPriors? Priors, LearnedNoise? Noise)> Learn(string practice, DateOnly today, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.Query<Practice>().FirstOrDefaultAsync(ct) is not { } known)
            return (null, null);
        var zone = PracticeClock.Zone(known);
        var horses = await session
            .Query<HorseProfile>()
            .Where(h => !h.Gone)
            .OrderByDescending(h => h.LastVisitOn)
            .Take(MostHorses)
            .ToListAsync(ct);

        // Twice over the visits: how far values can be trusted comes before what they say, and all of them at once would not fit
        // everywhere.
        var repeats = known.Studies.Values.SelectMany(study => Repeats.RepeatsIn(study, zone)).ToList();
        await foreach (var (_, visits) in Visits(session, horses, ct))
            repeats.AddRange(Repeats.RepeatsIn(visits, zone));
        var noise = NoiseLearning.Learn(repeats, known.Rules);

        var rules = known.Rules with { Repeats = noise };
        var periods = new List<FittedPeriod>();
        await foreach (var (horse, visits) in Visits(session, horses, ct))
            periods.AddRange(FittedPeriods.PeriodsOf(horse, visits, rules, zone, today));
        return (PriorLearning.Learn(periods, rules), noise);
    }

    internal static async IAsyncEnumerable<(HorseProfile Horse, IReadOnlyList<VisitRecord> Visits)> Visits(
        IQuerySession session,
        IReadOnlyList<HorseProfile> horses,
        [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken ct
    )
    {
        foreach (var page in horses.Chunk(Page))
        {
            var ids = page.Select(h => h.Id).ToArray();
            var visits = (await session.Query<VisitRecord>().Where(v => v.HorseId.IsOneOf(ids)).ToListAsync(ct)).ToLookup(v => v.HorseId);
            foreach (var horse in page)
                yield return (horse, [.. visits[horse.Id].Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt)]);
        }
    }
}
