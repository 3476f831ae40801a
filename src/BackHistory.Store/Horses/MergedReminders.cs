using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using Marten;

namespace BackHistory.Store.Horses;

/// <summary>What somebody decided about reminders of a second registration holds for the one that stays: a visit that is booked, a day
/// until which it was put off, and a caution that was ended before anybody said that the veterinary surgeon cleared the horse. Reminders
/// that nobody decided about are raised anew by the rules.</summary>
internal sealed class MergedReminders(IDocumentStore store, Commands commands)
{
    /// <summary>Whether something was decided that does not hold for the registration that stays yet.</summary>
    public async Task<bool> AnyBehind(string practice, Guid duplicateId, Guid intoId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var of = await Of(session, duplicateId, ct);
        return of.Any(IsDecided) || await Uncleared(session, of, intoId, ct) is not null;
    }

    /// <param name="step">The context of a step by its name, the same each time that it is tried.</param>
    /// <returns>Why something was left behind, for now; null when nothing was.</returns>
    public async Task<Refused?> Follow(
        Guid duplicateId,
        Guid intoId,
        HorseMergedAway merged,
        Func<string, CommandContext> step,
        CancellationToken ct
    )
    {
        var practice = step("").Tenant;
        IReadOnlyList<Reminder> behind;
        Reminder? uncleared;
        await using (var session = store.QuerySession(practice))
        {
            behind = await Of(session, duplicateId, ct);
            uncleared = await Uncleared(session, behind, intoId, ct);
        }

        foreach (var decided in behind.Where(IsDecided))
        {
            if (await Carried(decided, intoId, merged, step($"booking:{decided.Id}:{decided.Version}"), ct) is { } refused)
                return refused;
            var ended = await commands.Execute<Reminder>(
                step($"booking-away:{decided.Id}:{decided.Version}"),
                decided.Id,
                r => ReminderDecider.Decide(r, new WithdrawReminder(merged.Reason, [], merged.By), step("").Now),
                ct
            );
            if (ended.Refused is { } stays)
                return stays;
        }

        return uncleared is null ? null : await Awaited(uncleared, intoId, merged, step($"caution:{uncleared.Id}"), ct);
    }

    /// <summary>A visit that is booked stays booked under the same booking: a calendar sees one appointment. Where the registration that
    /// stays has decided about the same reason itself, that holds.</summary>
    private async Task<Refused?> Carried(Reminder decided, Guid intoId, HorseMergedAway merged, CommandContext step, CancellationToken ct)
    {
        IReadOnlyList<Reminder> there;
        DateOnly today;
        await using (var session = store.QuerySession(step.Tenant))
        {
            there = await Of(session, intoId, ct);
            today = PracticeClock.Day(await session.Query<Practice>().SingleAsync(ct), step.Now);
        }

        var same = there.FirstOrDefault(r => !r.Over && SameKind(r, decided));
        var now = step.Now;
        // One whose hour or day has passed meanwhile is let go with the reminder that it belonged to.
        var visit =
            decided is { BookingId: { } booking, BookedFor: { } at } && at > now
                ? new BookVisit(booking, at, merged.By, null, decided.Fitter)
                : null;
        var later =
            visit is null && decided.PutOffUntil is { } until && until > today
                ? new PutOffReminder(until, decided.PutOffBecause ?? merged.Reason, merged.By)
                : null;
        if ((visit is null && later is null) || same is { BookingId: not null } || (later is not null && same?.PutOffUntil is not null))
            return null;
        var raise = Raised(
            same?.Id ?? ReminderIds.IdFor(step.Tenant, intoId, decided.SaddleId, decided.Rule, there.Count(r => SameKind(r, decided))),
            decided,
            intoId,
            merged
        );
        var outcome = await commands.Execute<Reminder>(
            step,
            raise.ReminderId,
            r =>
                Both(
                    r,
                    raise,
                    after =>
                        visit is not null ? ReminderDecider.Decide(after, visit, now) : ReminderDecider.Decide(after, later!, today, now),
                    now
                ),
            ct
        );
        return outcome.Refused;
    }

    /// <summary>The caution is raised where the horse goes on, and ended with the words that ended it.</summary>
    private async Task<Refused?> Awaited(Reminder uncleared, Guid intoId, HorseMergedAway merged, CommandContext step, CancellationToken ct)
    {
        var raise = Raised(IdOfAwaited(uncleared), uncleared, intoId, merged);
        var close = new CloseReminder(uncleared.ClosedBecause ?? merged.Reason, merged.By);
        var outcome = await commands.Execute<Reminder>(
            step,
            raise.ReminderId,
            r => Both(r, raise, after => ReminderDecider.Decide(after, close, step.Now), step.Now),
            ct
        );
        return outcome.Refused;
    }

    private static Decided Both(Reminder? found, RaiseReminder raise, Func<Reminder?, Decided> then, DateTimeOffset now)
    {
        if (found is not null)
            return then(found);
        var raised = ReminderDecider.Decide(found, raise, now);
        var after = raised.Events.Aggregate(found, Reminder.After);
        var decided = then(after);
        return decided.Refused is null ? Decided.Yes([.. raised.Events, .. decided.Events]) : decided;
    }

    private static RaiseReminder Raised(Guid id, Reminder from, Guid intoId, HorseMergedAway merged) =>
        new(id, intoId, from.SaddleId, from.Rule, from.Evidence, [], merged.By, WorkId: from.WorkId);

    private static bool SameKind(Reminder one, Reminder other) => one.Rule == other.Rule && one.SaddleId == other.SaddleId;

    private static bool IsDecided(Reminder r) =>
        !r.Over && (r is { BookingId: not null, BookedFor: not null } || r.PutOffUntil is not null);

    /// <summary>The caution that still waits for a veterinary surgeon's word, unless the registration that stays has one that stands or
    /// waits itself, or took this one in.</summary>
    private static async Task<Reminder?> Uncleared(IQuerySession session, IReadOnlyList<Reminder> behind, Guid intoId, CancellationToken ct)
    {
        if (ReminderPolicy.AwaitsVet(behind) is not { } uncleared)
            return null;
        var there = await Of(session, intoId, ct);
        var cautioned = there.Any(r => r.Id == IdOfAwaited(uncleared) || (!r.Over && Families.FamilyOf(r.Rule) == ReminderFamily.Vet));
        return cautioned || ReminderPolicy.AwaitsVet(there) is not null ? null : uncleared;
    }

    private static Guid IdOfAwaited(Reminder uncleared) => DeterministicId.From("reminder taken in", uncleared.Id.ToString());

    private static async Task<IReadOnlyList<Reminder>> Of(IQuerySession session, Guid horseId, CancellationToken ct) =>
        [.. (await session.Query<Reminder>().Where(r => r.HorseId == horseId).ToListAsync(ct)).OrderBy(r => r.Id)];
}
