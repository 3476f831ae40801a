using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Somebody says that what a reminder asks for was done, though no visit or work is on record.</summary>
public sealed class NoteDone(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId);

    public Task<Outcome> Do(Input done, Caller by, CancellationToken ct) =>
        commands.Execute<Reminder>(
            by.Context,
            done.ReminderId,
            reminder =>
                ReminderRefusals.UnlessShown(reminder, by.Context.Shown)
                ?? ReminderDecider.Decide(reminder, new ResolveReminder(null, null, by.Context.Actor), by.Context.Now),
            ct
        );
}
