using BackHistory.History.Practices;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Whether a letter that is owed may leave: between the intent and the sending the world goes on.</summary>
public static class LetterGate
{
    /// <returns>Why it is not needed any more; null when it is.</returns>
    public static string? NotNeeded(Reminder reminder, Guid letterId, LetterKind kind) =>
        kind switch
        {
            LetterKind.BookingMade or LetterKind.BookingCancelled when Overtaken(reminder, letterId) =>
                "Not needed any more: the booking was changed before it left.",
            LetterKind.OwnerRefit
            or LetterKind.OwnerCheck
            or LetterKind.VetCaution
            or LetterKind.MeasureAgain
            or LetterKind.NoAnswer when reminder.Over => "Not needed any more: the reminder was over before it left.",
            LetterKind.NoAnswer when reminder.Answer is not null => "Not needed any more: an answer came.",
            LetterKind.BookingMade when reminder.BookedFor is null => "Not needed any more: the booking was changed before it left.",
            _ => null,
        };

    /// <summary>Lists for the practice's own staff, at the hour that they chose.</summary>
    public static bool ToStaff(LetterKind kind) => kind is LetterKind.ManagerDigest or LetterKind.FitterDay;

    /// <summary>Whether a letter stays inside the practice: its lists, and whatever goes to its own fitters and managers.</summary>
    public static bool Inside(LetterKind kind, Person? reader) => ToStaff(kind) || reader?.Role is PersonRole.Fitter or PersonRole.Manager;

    /// <summary>
    /// Whether a letter of this kind keeps quiet hours. What is cancelled, or begins within a day, is told at once: somebody would go to
    /// the yard for nothing.
    /// </summary>
    public static bool KeepsQuietHours(LetterKind kind, DateTimeOffset? bookedFor, DateTimeOffset now) =>
        !ToStaff(kind)
        && kind != LetterKind.BookingCancelled
        && (kind != LetterKind.BookingMade || bookedFor is null || bookedFor > now.AddDays(1));

    /// <summary>A later letter to the same person says what became of the booking.</summary>
    private static bool Overtaken(Reminder reminder, Guid letterId)
    {
        var booking = reminder.Post.Where(l => l.Kind is LetterKind.BookingMade or LetterKind.BookingCancelled).ToList();
        var itself = booking.FirstOrDefault(l => l.LetterId == letterId);
        return itself is not null && booking.Last(l => l.To == itself.To) != itself;
    }

    /// <summary>A silent reminder's letters wait until it is heard again.</summary>
    public static bool Waits(Reminder reminder, LetterKind kind) =>
        reminder.State == ReminderState.Muted
        && kind
            is (LetterKind.OwnerRefit or LetterKind.OwnerCheck or LetterKind.VetCaution or LetterKind.MeasureAgain or LetterKind.NoAnswer);
}
