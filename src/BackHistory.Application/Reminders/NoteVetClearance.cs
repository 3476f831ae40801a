using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Somebody says that the veterinary surgeon has cleared the horse, and what was said; what a caution silenced is heard
/// again.</summary>
public sealed class NoteVetClearance(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, string? Words);

    public Task<Outcome> Do(Input cleared, Caller by, CancellationToken ct) =>
        commands.Execute<Reminder>(
            by.Context,
            cleared.ReminderId,
            reminder =>
                ReminderRefusals.UnlessShown(reminder, by.Context.Shown)
                ?? ReminderDecider.Decide(reminder, new ClearByVet(by.Context.Actor, cleared.Words ?? ""), by.Context.Now),
            ct
        );
}
