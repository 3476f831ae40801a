namespace BackHistory.History.Reminders.Policy;

public sealed record RaiseStep(Guid ReminderId, RaiseReminder Command) : ReminderStep(ReminderId);

public sealed record OpenStep(Guid ReminderId, IReadOnlyList<LetterToWrite> Letters) : ReminderStep(ReminderId);

public sealed record MuteStep(Guid ReminderId, MuteReason Because, Guid? CoveredBy) : ReminderStep(ReminderId);

public sealed record UnmuteStep(Guid ReminderId) : ReminderStep(ReminderId);

public sealed record ResumeStep(Guid ReminderId, IReadOnlyList<LetterToWrite> Letters) : ReminderStep(ReminderId);

public sealed record EscalateStep(Guid ReminderId, LetterToWrite Letter) : ReminderStep(ReminderId);

public sealed record ResolveStep(Guid ReminderId, Guid? VisitId, Guid? WorkId) : ReminderStep(ReminderId);

public sealed record WithdrawStep(Guid ReminderId, string Reason, IReadOnlyList<LetterToWrite> Letters) : ReminderStep(ReminderId)
{
    /// <summary>A visit that is booked is called off.</summary>
    public bool CallsOff { get; init; }
}

/// <summary>From a step to what its decider says.</summary>
public static class ReminderSteps
{
    public static Decided Decide(Reminder? reminder, ReminderStep step, DateTimeOffset now)
    {
        var by = ReminderPolicy.TheService;
        return step switch
        {
            RaiseStep s => ReminderDecider.Decide(reminder, s.Command, now),
            OpenStep s => ReminderDecider.Decide(reminder, new OpenPending(s.Letters, by), now),
            MuteStep s => ReminderDecider.Decide(reminder, new MuteReminder(s.Because, s.CoveredBy, by), now),
            UnmuteStep => ReminderDecider.Decide(reminder, new UnmuteReminder(by), now),
            ResumeStep s => ReminderDecider.Decide(reminder, new ResumeReminder(s.Letters, by), now),
            EscalateStep s => ReminderDecider.Decide(reminder, new OweLetter(s.Letter, by), now),
            ResolveStep s => ReminderDecider.Decide(reminder, new ResolveReminder(s.VisitId, s.WorkId, by), now),
            WithdrawStep s => ReminderDecider.Decide(reminder, new WithdrawReminder(s.Reason, s.Letters, by, s.CallsOff), now),
            _ => throw new ArgumentException($"no command for {step.GetType().Name}", nameof(step)),
        };
    }
}
