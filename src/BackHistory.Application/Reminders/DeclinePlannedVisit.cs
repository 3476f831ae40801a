using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>A horse is left out of a month's plan: put off until a day, with the reason.</summary>
public sealed class DeclinePlannedVisit(NotifyingCommands commands, PlanQueries plans, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Until">Until this day nothing is proposed for the horse, or said of it.</param>
    public sealed record Input(Guid HorseId, DateOnly Until, string Reason);

    public async Task<Outcome> Do(Input off, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        if (await plans.Horse(context.Tenant, off.HorseId, ct) is not { } planned)
            return new Outcome(off.HorseId, 0, 0, PlanRefusals.NoSuchHorse);
        var today = ZoneClock.Day(context.Now, await PracticeZone.ZoneOf(practices, context.Tenant, ct));
        var command = new PutOffReminder(off.Until, off.Reason, context.Actor);
        if (planned.Standing is { } standing)
            return await commands.Execute<Reminder>(
                context,
                standing.Id,
                r => ReminderRefusals.UnlessShown(r, context.Shown) ?? ReminderDecider.Decide(r, command, today, context.Now),
                ct
            );
        if (planned.Assessment is null)
            return new Outcome(off.HorseId, 0, 0, PlanRefusals.NotYetEvaluated);
        if (ReminderRefusals.UnlessShownWithout(context.Shown) is { } moved)
            return new Outcome(off.HorseId, 0, 0, moved);
        var raise = planned
            .Foreseen(context.Tenant, null, null, context.Actor)
            .WithSentence(ReminderSentences.InEnglish, planned.Horse.Name);
        return await commands.Execute<Reminder>(context, raise.ReminderId, Begun, ct);

        Decided Begun(Reminder? reminder)
        {
            var raised = ReminderDecider.Decide(reminder, raise, context.Now);
            if (raised.Refused is not null)
                return raised;
            var next = ReminderDecider.Decide(Reminder.After(null, raised.Events[0]), command, today, context.Now);
            return next.Refused is not null ? next : Decided.Yes([.. raised.Events, .. next.Events]);
        }
    }
}
