using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>Proposes a month of visits.</summary>
public sealed class MonthPlanner(PlanQueries plans, ReminderQueries reminders, PracticeQueries practices, TimeProvider time)
{
    /// <summary>From the first of the month, or from tomorrow in a month that is running, to its last day.</summary>
    /// <returns>Null for a month that is over.</returns>
    public async Task<NamedPlan?> Propose(string practice, int year, int month, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known)
            return null;
        var zone = TimeZoneInfo.FindSystemTimeZoneById(known.TimeZone);
        var tomorrow = PracticeClock.Day(time.GetUtcNow(), zone).AddDays(1);
        var first = new DateOnly(year, month, 1);
        var (from, to) = (first > tomorrow ? first : tomorrow, first.AddMonths(1).AddDays(-1));
        if (from > to)
            return null;
        var wanted = await plans.Wanted(practice, from, to, ct);
        var booked = await reminders.Booked(
            practice,
            PracticeClock.At(from, TimeOnly.MinValue, zone),
            PracticeClock.At(to.AddDays(1), TimeOnly.MinValue, zone),
            ct
        );
        var horses = await reminders.Horses(practice, booked.Select(r => r.HorseId).Concat(wanted.Select(w => w.HorseId)), ct);
        var taken = booked
            .DistinctBy(r => r.BookingId)
            .Select(r => new FixedVisit(
                r.HorseId,
                horses.GetValueOrDefault(r.HorseId)?.YardId,
                PracticeClock.At(r.BookedFor!.Value, zone).DateTime,
                r.Fitter
            ));
        var fitters = await practices.InRole(practice, PersonRole.Fitter, ct);
        var proposal = MonthPlan.Propose(
            wanted,
            [.. taken],
            fitters.Count == 0 ? [null] : [.. fitters.Select(f => (Guid?)f.Id)],
            known.ReminderRules.Planning,
            from,
            to
        );
        var yards = (await practices.Yards(practice, ct)).ToDictionary(y => y.Id, y => y.Town is null ? y.Name : $"{y.Name}, {y.Town}");
        var standing = new Dictionary<Guid, Reminder>();
        foreach (var id in wanted.Select(w => w.ReminderId).OfType<Guid>())
            if (await reminders.Load(practice, id, ct) is { } reminder)
                standing[id] = reminder;
        return new NamedPlan(
            from,
            to,
            zone,
            proposal,
            horses.ToDictionary(h => h.Key, h => h.Value.Name),
            yards,
            fitters.ToDictionary(f => f.Id, f => f.Name),
            standing
        );
    }
}
