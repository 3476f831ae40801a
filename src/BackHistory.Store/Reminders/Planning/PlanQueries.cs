using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;
using BackHistory.History.Reminders.Policy;
using Marten;

namespace BackHistory.Store.Reminders.Planning;

/// <summary>Who wants a visit within a time.</summary>
public sealed class PlanQueries(IDocumentStore store)
{
    /// <summary>A plan of more horses helps nobody; the most urgent are taken.</summary>
    private const int Most = 2000;

    /// <summary>Open reminders that a fitter can act on, and horses whose next check falls into the time.</summary>
    public async Task<IReadOnlyList<WantedVisit>> Wanted(string practice, DateOnly from, DateOnly to, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.Query<Practice>().FirstOrDefaultAsync(ct) is not { } known)
            return [];
        var reminders = (
            await session.Query<Reminder>().Where(r => r.State == ReminderState.Open).OrderBy(r => r.RaisedAt).Take(Most).ToListAsync(ct)
        )
            .Where(r => r.Answer != Answer.NotNeeded && Families.FamilyOf(r.Rule) != ReminderFamily.Vet)
            .ToList();
        // Who waits for a vet, was booked or put off is not called in by the calendar either.
        var busy = (
            await session
                .Query<Reminder>()
                .Where(r => r.State.IsOneOf(ReminderState.Open, ReminderState.Booked, ReminderState.PutOff, ReminderState.Muted))
                .Select(r => r.HorseId)
                .ToListAsync(ct)
        ).ToHashSet();
        var due = await session
            .Query<Assessment>()
            .Where(a => a.NextCheckDue >= from && a.NextCheckDue <= to)
            .OrderBy(a => a.NextCheckDue)
            .Take(Most)
            .ToListAsync(ct);
        var horses = (
            await session.LoadManyAsync<HorseProfile>(ct, [.. reminders.Select(r => r.HorseId).Concat(due.Select(a => a.Id)).Distinct()])
        ).ToDictionary(h => h.Id);
        // A registration that was merged away or withdrawn keeps what was last found of it, and is visited no more.
        foreach (var gone in horses.Values.Where(h => h.Gone).ToList())
            horses.Remove(gone.Id);
        var asked = reminders
            .Where(r => horses.ContainsKey(r.HorseId))
            .GroupBy(r => r.HorseId)
            .Select(g => g.OrderBy(r => Families.FamilyOf(r.Rule)).First())
            .Select(r => new WantedVisit(
                r.HorseId,
                horses[r.HorseId].YardId,
                r.Evidence.Due is { } d && Families.FamilyOf(r.Rule) == ReminderFamily.Calendar ? d : PracticeClock.Day(known, r.RaisedAt),
                WeightOf(r),
                r.Id
            ));
        var foreseen = due.Where(a => horses.ContainsKey(a.Id) && !busy.Contains(a.Id))
            .Select(a => new WantedVisit(a.Id, horses[a.Id].YardId, a.NextCheckDue, 1, null));
        return [.. asked.Concat(foreseen)];
    }

    /// <summary>A horse, what is said of it and its reminders: what a planned visit is decided from. Null when there is no such
    /// horse.</summary>
    public async Task<PlannedHorse?> Horse(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var horse = await session.LoadAsync<HorseProfile>(horseId, ct);
        var assessment = await session.LoadAsync<Assessment>(horseId, ct);
        if (horse is null or { Gone: true } || await session.Query<Practice>().FirstOrDefaultAsync(ct) is not { } known)
            return null;
        var reminders = await session
            .Query<Reminder>()
            .Where(r => r.HorseId == horseId)
            .OrderBy(r => r.RaisedAt)
            .ThenBy(r => r.Id)
            .ToListAsync(ct);
        return new PlannedHorse(horse, assessment, reminders, PracticeClock.Zone(known));
    }

    private static int WeightOf(Reminder r) =>
        Families.FamilyOf(r.Rule) == ReminderFamily.Shape ? 3
        : r.Answer == Answer.Book ? 3
        : 2;
}
