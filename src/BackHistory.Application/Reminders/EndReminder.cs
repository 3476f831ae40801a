using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A reminder is closed by hand, with the reason.</summary>
public sealed class EndReminder(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, string Reason);

    public Task<Outcome> Do(Input end, Caller by, CancellationToken ct) =>
        commands.Execute<Reminder>(
            by.Context,
            end.ReminderId,
            reminder =>
                ReminderRefusals.UnlessShown(reminder, by.Context.Shown)
                ?? ReminderDecider.Decide(reminder, new CloseReminder(end.Reason, by.Context.Actor), by.Context.Now),
            ct
        );
}
