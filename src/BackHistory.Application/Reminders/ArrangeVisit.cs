using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A visit is booked for a reminder, or the booked one moved.</summary>
public sealed class ArrangeVisit(NotifyingCommands commands, FirstReader first) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Booking">The booking's id, where this begins one.</param>
    /// <param name="FitterId">Who goes; null while nobody was named.</param>
    /// <param name="Tell">The owner gets the date with an appointment for their calendar.</param>
    public sealed record Input(Guid ReminderId, Guid Booking, DateTimeOffset For, Guid? FitterId, bool Tell);

    public async Task<Outcome> Do(Input visit, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return await commands.ExecuteHolding<Reminder>(
            context,
            visit.ReminderId,
            async held =>
            {
                var tell = visit.Tell ? await first.OfReminder(held, context.Tenant, visit.ReminderId, ct) : null;
                var command = new BookVisit(visit.Booking, visit.For, context.Actor, tell, visit.FitterId);
                var known = await FitterNamed.IsKnown(held, visit.FitterId);
                return reminder =>
                    ReminderRefusals.UnlessShown(reminder, context.Shown)
                    ?? (known ? ReminderDecider.Decide(reminder, command, context.Now) : FitterNamed.NoSuchFitter);
            },
            ct
        );
    }
}
