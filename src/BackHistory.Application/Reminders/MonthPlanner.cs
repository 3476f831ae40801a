using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Planning;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>Proposes visits: for a month, or for the weeks that come.</summary>
public sealed class MonthPlanner(
    PlanQueries plans,
    ReminderQueries reminders,
    PracticeQueries practices,
    BookedVisits visits,
    TimeProvider time
)
{
    /// <summary>From the first of the month, or from tomorrow in a month that is running, to its last day.</summary>
    /// <returns>Null for a month that is over.</returns>
    public Task<NamedPlan?> Propose(string practice, int year, int month, CancellationToken ct)
    {
        var first = new DateOnly(year, month, 1);
        return Propose(practice, first, first.AddMonths(1).AddDays(-1), ct);
    }

    /// <summary>From a day to another: visits are proposed from tomorrow on, and what is booked stands in it from the first day.</summary>
    /// <returns>Null where all of it is over.</returns>
    public async Task<NamedPlan?> Propose(string practice, DateOnly first, DateOnly to, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known)
            return null;
        var zone = PracticeClock.Zone(known);
        var today = ZoneClock.Day(time.GetUtcNow(), zone);
        var tomorrow = today.AddDays(1);
        var from = first > tomorrow ? first : tomorrow;
        if (from > to)
            return null;
        var wanted = await plans.Wanted(practice, from, to, ct);
        var booked = await visits.Within(known, practice, first > today ? first : today, to.AddDays(1), wanted.Select(w => w.HorseId), ct);
        var (horses, fitters) = (booked.Horses, booked.Fitters);
        var proposal = MonthPlan.Propose(
            wanted,
            booked.Taken,
            fitters.Count == 0 ? [null] : [.. fitters.Select(f => (Guid?)f.Id)],
            known.ReminderRules.Planning,
            from,
            to
        );
        var owners = await practices.People(practice, horses.Values.Select(h => h.OwnerId).OfType<Guid>(), ct);
        return new NamedPlan(
            from,
            to,
            zone,
            proposal,
            booked.Reminders,
            horses,
            (await practices.Yards(practice, ct)).ToDictionary(y => y.Id),
            fitters.ToDictionary(f => f.Id, f => f.Name),
            owners.ToDictionary(p => p.Id),
            await reminders.Load(practice, wanted.Select(w => w.ReminderId).OfType<Guid>(), ct)
        );
    }
}
