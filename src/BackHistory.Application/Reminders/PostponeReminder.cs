using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>A reminder is put off until a day, with the reason.</summary>
public sealed class PostponeReminder(NotifyingCommands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, DateOnly Until, string Reason);

    public async Task<Outcome> Do(Input off, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var today = ZoneClock.Day(context.Now, await PracticeZone.ZoneOf(practices, context.Tenant, ct));
        var command = new PutOffReminder(off.Until, off.Reason, context.Actor);
        return await commands.Execute<Reminder>(
            context,
            off.ReminderId,
            reminder =>
                ReminderRefusals.UnlessShown(reminder, context.Shown) ?? ReminderDecider.Decide(reminder, command, today, context.Now),
            ct
        );
    }
}
