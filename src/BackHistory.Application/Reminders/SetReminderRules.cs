using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Which reminders are raised and when, whole; every change is a version.</summary>
public sealed class SetReminderRules(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(ReminderRules Rules, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state => PracticeDecider.Decide(state, new ChangeReminderRules(input.Rules, input.Reason, by.Context.Actor), by.Context.Now),
            ct
        );
}
