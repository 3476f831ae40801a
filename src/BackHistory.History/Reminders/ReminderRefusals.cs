namespace BackHistory.History.Reminders;

public static class ReminderRefusals
{
    public static readonly Refused NoSuchReminder = new(
        "no-such-reminder",
        "There is no such reminder in this practice.",
        RefusalKind.NotFound
    );

    public static readonly Refused NoSuchLetter = new("no-such-letter", "There is no such letter.", RefusalKind.NotFound);

    public static readonly Refused AlreadyRaised = new("already-raised", "This reminder was raised already.", RefusalKind.Conflict);

    public static readonly Refused Over = new(
        "reminder-over",
        "This reminder is done or closed already; nothing was changed.",
        RefusalKind.Conflict
    );
}
