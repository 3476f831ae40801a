namespace BackHistory.History.Reminders;

public static class ReminderRefusals
{
    public static readonly Refused NoSuchReminder = new(
        "no-such-reminder",
        "There is no such reminder in this practice.",
        RefusalKind.NotFound
    );

    /// <summary>A letter of a kind to somebody is not repeated within this time unless it is meant.</summary>
    public static readonly TimeSpan SoonAfter = TimeSpan.FromHours(1);

    /// <param name="ago">How long ago the last one left.</param>
    public static Refused WrittenLately(TimeSpan ago) =>
        new(
            "written-lately",
            $"Such a letter went to this person {Ago(ago)}, so none was written now. Write again only if it is meant to come twice.",
            RefusalKind.Conflict
        );

    private static string Ago(TimeSpan ago) =>
        ago.TotalMinutes < 2
            ? "just now"
            : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{(int)ago.TotalMinutes} minutes ago");

    public static readonly Refused NoSuchLetter = new("no-such-letter", "There is no such letter.", RefusalKind.NotFound);

    public static readonly Refused NotBooked = new("not-booked", "No visit is booked for this reminder.", RefusalKind.Conflict);

    public static readonly Refused AlreadyRaised = new("already-raised", "This reminder was raised already.", RefusalKind.Conflict);

    public static readonly Refused MovedOn = new(
        "moved-on",
        "Somebody changed this reminder while the page was open, so nothing was done. It is shown as it stands now: press again if you"
            + " still want it.",
        RefusalKind.Conflict
    );

    /// <summary>The first and the last day until which a reminder can be put off.</summary>
    public static (DateOnly First, DateOnly Last) PutOffDays(DateOnly today) => (today.AddDays(1), today.AddYears(1));

    public static Refused? OfPutOff(DateOnly until, DateOnly today) =>
        PutOffDays(today) is var (first, last) && until >= first && until <= last
            ? null
            : new Refused("bad-date", "A reminder is put off until a day after today and within a year.", Place: "until");

    /// <summary>Whether it stands as a page showed it; what became of its letters meanwhile does not count.</summary>
    /// <param name="shown">What <see cref="Reminder.StandingTag"/> said on the page; null asks nothing.</param>
    public static Refused? UnlessShown(Reminder? reminder, string? shown) =>
        reminder is null || shown is null || reminder.StandingTag() == shown ? null : MovedOn;

    /// <summary>What a page gives back of a horse that had no reminder when it was shown.</summary>
    public const string ShownWithout = "none";

    /// <summary>The same where a horse had no reminder, and has none.</summary>
    public static Refused? UnlessShownWithout(string? shown) => shown is null or ShownWithout ? null : MovedOn;

    public static readonly Refused Over = new(
        "reminder-over",
        "This reminder is done or closed already; nothing was changed.",
        RefusalKind.Conflict
    );
}
