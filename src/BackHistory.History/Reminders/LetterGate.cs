namespace BackHistory.History.Reminders;

/// <summary>Whether a letter that is owed may leave: between the intent and the sending the world goes on.</summary>
public static class LetterGate
{
    /// <returns>Why it is not needed any more; null when it is.</returns>
    public static string? NotNeeded(Reminder reminder, LetterKind kind) => kind switch
    {
        LetterKind.OwnerRefit or LetterKind.OwnerCheck or LetterKind.VetCaution or LetterKind.MeasureAgain or LetterKind.NoAnswer when reminder.Over =>
            "Not needed any more: the reminder was over before it left.",
        LetterKind.NoAnswer when reminder.Answer is not null => "Not needed any more: an answer came.",
        LetterKind.BookingMade when reminder.BookedFor is null => "Not needed any more: the booking was changed before it left.",
        _ => null,
    };

    /// <summary>A silent reminder's letters wait until it is heard again.</summary>
    public static bool Waits(Reminder reminder, LetterKind kind) =>
        reminder.State == ReminderState.Muted
        && kind is (LetterKind.OwnerRefit or LetterKind.OwnerCheck or LetterKind.VetCaution or LetterKind.MeasureAgain or LetterKind.NoAnswer);
}
