using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Service.Jobs;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Service.Reminders;

/// <summary>A month's proposal with the names that a person reads.</summary>
public sealed record NamedPlan(
    DateOnly From,
    DateOnly To,
    TimeZoneInfo Zone,
    Proposal Proposal,
    IReadOnlyDictionary<Guid, string> Horses,
    IReadOnlyDictionary<Guid, string> Yards,
    IReadOnlyDictionary<Guid, string> People,
    IReadOnlyDictionary<Guid, Reminder> Reminders
);

/// <summary>Proposes a month of visits and carries out what a person makes of the proposal.</summary>
public sealed class PlanActions(
    PlanQueries plans,
    ReminderQueries reminders,
    PracticeQueries practices,
    ReminderActions actions,
    Commands commands,
    ChangeNotifier notifier,
    TimeProvider time
)
{
    private static readonly Refused NoSuchHorse = new("no-such-horse", "There is no such horse in this practice.", RefusalKind.NotFound);

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

    /// <summary>Books a visit: on the reminder that waits for one, or on one that begins with it.</summary>
    /// <param name="key">The same key books once.</param>
    public async Task<Outcome> Accept(
        string practice,
        Guid by,
        Guid horseId,
        DateTimeOffset at,
        Guid? fitter,
        string key,
        CancellationToken ct
    )
    {
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, by, CallerKey.Of(by, key), "", null, now);
        if (await plans.Horse(practice, horseId, ct) is not { } planned)
            return new Outcome(horseId, 0, 0, NoSuchHorse);
        var tell = await actions.ReaderOf(practice, planned.Horse.OwnerId, ct);
        var booking = new BookVisit(DeterministicId.Of("booking", practice, key), at, by, tell, fitter);
        var outcome = planned.Standing is { } standing
            ? await commands.Execute<Reminder>(context, standing.Id, r => ReminderDecider.Decide(r, booking, now), ct)
            : await Begin(
                context,
                planned,
                planned.Foreseen(practice, booking, tell, by).Saying(ReminderSentences.InEnglish, planned.Horse.Name),
                [],
                ct
            );
        if (outcome.Refused is null)
            notifier.SomethingHappened(practice);
        return outcome;
    }

    /// <summary>Not in this month: put off until the first day after it.</summary>
    public async Task<Outcome> Decline(
        string practice,
        Guid by,
        Guid horseId,
        DateOnly until,
        string reason,
        string key,
        CancellationToken ct
    )
    {
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, by, CallerKey.Of(by, key), "", null, now);
        if (await plans.Horse(practice, horseId, ct) is not { } planned)
            return new Outcome(horseId, 0, 0, NoSuchHorse);
        var off = new PutOffReminder(until, reason, by);
        var today = PracticeClock.Day(
            now,
            TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(practice, ct))?.TimeZone ?? "Etc/UTC")
        );
        var outcome = planned.Standing is { } standing
            ? await commands.Execute<Reminder>(context, standing.Id, r => ReminderDecider.Decide(r, off, today, now), ct)
            : await Begin(
                context,
                planned,
                planned.Foreseen(practice, null, null, by).Saying(ReminderSentences.InEnglish, planned.Horse.Name),
                [r => ReminderDecider.Decide(r, off, today, now)],
                ct
            );
        if (outcome.Refused is null)
            notifier.SomethingHappened(practice);
        return outcome;
    }

    private Task<Outcome> Begin(
        CommandContext context,
        PlannedHorse planned,
        RaiseReminder raise,
        IReadOnlyList<Func<Reminder, Decided>> then,
        CancellationToken ct
    ) =>
        commands.Execute<Reminder>(
            context,
            raise.ReminderId,
            reminder =>
            {
                if (raise.Booking is { } b && (b.For < context.Now || b.For > context.Now.AddYears(1)))
                    return Decided.No("bad-date", "A visit is booked for a time after now and within a year.");
                var raised = ReminderDecider.Decide(reminder, raise, context.Now);
                if (raised.Refused is not null || then.Count == 0)
                    return raised;
                var begun = Reminder.After(null, raised.Events[0])!;
                var next = then.Select(t => t(begun)).ToList();
                return next.FirstOrDefault(n => n.Refused is not null) is { Refused: { } no }
                    ? no
                    : Decided.Yes([.. raised.Events, .. next.SelectMany(n => n.Events)]);
            },
            ct
        );
}
