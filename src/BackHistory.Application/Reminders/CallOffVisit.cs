using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A booked visit will not take place, with the reason.</summary>
public sealed class CallOffVisit(NotifyingCommands commands, FirstReader first) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Tell">The owner is told.</param>
    public sealed record Input(Guid ReminderId, string Reason, bool Tell);

    public async Task<Outcome> Do(Input visit, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return await commands.ExecuteHolding<Reminder>(
            context,
            visit.ReminderId,
            async held =>
            {
                var tell = visit.Tell ? await first.OfVisit(held, context.Tenant, visit.ReminderId, ct) : null;
                var command = new CancelBooking(visit.Reason, context.Actor, tell);
                return reminder =>
                    ReminderRefusals.UnlessShown(reminder, context.Shown) ?? ReminderDecider.Decide(reminder, command, context.Now);
            },
            ct
        );
    }
}
