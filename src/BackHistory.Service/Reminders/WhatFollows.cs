using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.Service.Reminders;

/// <summary>What an act will bring about, said before it is done.</summary>
internal static class WhatFollows
{
    /// <summary>After a reminder is closed by hand.</summary>
    public static string Closing(Reminder r, Practice practice)
    {
        var days = practice.ReminderRules.SettingOf(r.Rule).QuietDays;
        var said = $"Nothing more is asked of anybody, and on the same ground it is not raised again for {days} days.";
        var closed = r with { State = ReminderState.Closed, BookedFor = null };
        var waiting = r.Post.Where(l => l.State is LetterState.Owed or LetterState.Deferred).ToLookup(l => StillLeaves(closed, l));
        if (waiting.Contains(false))
            said += " Its letter that still waits does not leave.";
        if (waiting.Contains(true))
            said += " A letter that says what was done before still leaves.";
        if (r is { State: ReminderState.Booked, BookedFor: { } at })
            said +=
                $" The visit on {Formatted(PracticeClock.Local(practice, at))} falls away and nobody is told: cancel it first if the owner "
                + "should hear.";
        if (Families.FamilyOf(r.Rule) == ReminderFamily.Vet)
            said += " Until somebody notes that the vet has cleared the horse, no letter about its saddle leaves.";
        return said;
    }

    private static bool StillLeaves(Reminder reminder, LetterTrail letter) =>
        LetterGate.NotNeeded(reminder, letter.LetterId, letter.Kind) is null;

    /// <summary>After it is put off.</summary>
    public static string PuttingOff(Reminder r, Practice practice) =>
        r is { State: ReminderState.Booked, BookedFor: { } at }
            ? $"Until that day nothing is said of it. The visit on {Formatted(PracticeClock.Local(practice, at))} is in the plan no more, "
                + "and nobody is told."
            : "Until that day nothing is said of it; then it comes back, and its first reader is written to again.";

    private static string Formatted(DateTimeOffset local) => local.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
