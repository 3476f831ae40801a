using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A visit is booked for a reminder, or the booked one moved.</summary>
public sealed class ArrangeVisit(NotifyingCommands commands, FirstReader first, ReminderQueries reminders, BookingClashes clashes) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Booking">The booking's id, where this begins one.</param>
    /// <param name="FitterId">Who goes; null while nobody was named.</param>
    /// <param name="Tell">The owner gets the date with an appointment for their calendar.</param>
    /// <param name="EvenSo">Also where the fitter has no room for it that day; otherwise that is refused, so that it can be asked.</param>
    public sealed record Input(Guid ReminderId, Guid Booking, DateTimeOffset For, Guid? FitterId, bool Tell, bool EvenSo = true);

    public async Task<Outcome> Do(Input visit, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return await commands.ExecuteHolding<Reminder>(
            context,
            visit.ReminderId,
            async held =>
            {
                await held.Bookings();
                var clash = visit.EvenSo ? null : await Clash(context.Tenant, visit, ct);
                var tell = visit.Tell ? await first.OfVisit(held, context.Tenant, visit.ReminderId, ct) : null;
                var command = new BookVisit(visit.Booking, visit.For, context.Actor, tell, visit.FitterId);
                var known = await FitterNamed.IsKnown(held, visit.FitterId);
                return reminder =>
                    clash
                    ?? ReminderRefusals.UnlessShown(reminder, context.Shown)
                    ?? (known ? ReminderDecider.Decide(reminder, command, context.Now) : FitterNamed.NoSuchFitter);
            },
            ct
        );
    }

    /// <summary>Sent once more, the answer is that of the first time: the booking itself is no clash.</summary>
    private async Task<Refused?> Clash(string practice, Input visit, CancellationToken ct) =>
        await reminders.Load(practice, visit.ReminderId, ct) is { } about
        && (about.BookedFor != visit.For || about.Fitter != visit.FitterId)
            ? await clashes.Of(practice, about.HorseId, visit.For, visit.FitterId ?? about.Fitter, ct)
            : null;
}
