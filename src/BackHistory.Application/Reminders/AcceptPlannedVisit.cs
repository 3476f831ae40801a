using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Store;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>A visit of a month's plan is booked: on the reminder that waits for one, or on one that begins with it.</summary>
public sealed class AcceptPlannedVisit(NotifyingCommands commands, PlanQueries plans, BookingClashes clashes) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Booking">The booking's id, where this begins one.</param>
    /// <param name="FitterId">Who goes; null while nobody was named.</param>
    /// <param name="EvenSo">Also where the fitter has no room for it that day; otherwise that is refused, so that it can be asked.</param>
    public sealed record Input(Guid HorseId, Guid Booking, DateTimeOffset At, Guid? FitterId, bool EvenSo = true);

    public async Task<Outcome> Do(Input visit, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        if (await plans.Horse(context.Tenant, visit.HorseId, ct) is not { } planned)
            return new Outcome(visit.HorseId, 0, 0, PlanRefusals.NoSuchHorse);
        if (planned.Standing is { } standing)
            return await commands.ExecuteHolding<Reminder>(
                context,
                standing.Id,
                async held =>
                {
                    var clash = await Clash(held);
                    // Streams are held before documents.
                    var booking = await Booking(held);
                    var known = await FitterNamed.IsKnown(held, visit.FitterId);
                    return r =>
                        clash is not null ? clash
                        : !known ? FitterNamed.NoSuchFitter
                        : r is { BookedFor: not null } ? PlanRefusals.BookedMeanwhile
                        : ReminderRefusals.UnlessShown(r, context.Shown) ?? ReminderDecider.Decide(r, booking, context.Now);
                },
                ct
            );
        if (planned.Assessment is null)
            return new Outcome(visit.HorseId, 0, 0, PlanRefusals.NotYetEvaluated);
        if (ReminderRefusals.UnlessShownWithout(context.Shown) is { } moved)
            return new Outcome(visit.HorseId, 0, 0, moved);
        return await commands.ExecuteHolding<Reminder>(
            context,
            planned.Foreseen(context.Tenant, null, null, context.Actor).ReminderId,
            async held =>
            {
                var clash = await Clash(held);
                // Streams are held before documents.
                var booking = await Booking(held);
                var known = await FitterNamed.IsKnown(held, visit.FitterId);
                var raise = planned
                    .Foreseen(context.Tenant, booking, booking.Tell, context.Actor)
                    .WithSentence(ReminderSentences.InEnglish, planned.Horse.Name);
                return r =>
                    clash is not null ? clash
                    : !known ? FitterNamed.NoSuchFitter
                    : booking.For < context.Now || booking.For > context.Now.AddYears(1)
                        ? Decided.No("bad-date", "A visit is booked for a time after now and within a year.")
                    : ReminderDecider.Decide(r, raise, context.Now);
            },
            ct
        );

        async Task<Refused?> Clash(Held held)
        {
            await held.Bookings();
            return visit.EvenSo ? null : await clashes.Of(context.Tenant, visit.HorseId, visit.At, visit.FitterId, ct);
        }

        async Task<BookVisit> Booking(Held held) =>
            new(visit.Booking, visit.At, context.Actor, await FirstReader.OfHorse(held, visit.HorseId), visit.FitterId);
    }
}
