using BackHistory.History.Practices;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Whether a letter that is owed may leave: between the intent and the sending the world goes on.</summary>
public static class LetterGate
{
    /// <summary>The one answer to whether a letter goes: who may get it, what was let go, what is silent, whose night it is.</summary>
    /// <param name="about">The reminder that owes it; null for a letter about many horses.</param>
    /// <param name="released">Whether the practice's letters to people outside were let go.</param>
    /// <param name="earlier">Attempts that failed.</param>
    public static LetterVerdict Judge(
        Practice practice,
        Letter letter,
        Reminder? about,
        Person? reader,
        LetterAttempts? earlier,
        bool released,
        DateTimeOffset now
    )
    {
        if (!released && !Inside(letter.Kind, reader))
            return LetterVerdict.Waits(LetterHindrance.Release);
        if (about is not null && Waits(about, letter.Kind))
            return LetterVerdict.Waits(LetterHindrance.Silence);
        if (about is not null && NotNeeded(about, letter.Id, letter.Kind) is { } over)
            return LetterVerdict.Never(over);
        // Of a visit that was cancelled, the hour at which it would have been: whoever goes there for nothing is not asleep.
        if (KeepsQuietHours(letter.Kind, about?.BookedFor ?? about?.BookedBefore, now) && QuietUntil(practice, reader, now) is not null)
            return LetterVerdict.Waits(LetterHindrance.QuietHours);
        if (earlier?.NotBefore > now)
            return LetterVerdict.Waits(LetterHindrance.Pause);
        return Unreachable(reader, letter.Kind) is { } cannot ? LetterVerdict.Never(cannot) : LetterVerdict.Leaves;
    }

    /// <summary>Whether a letter would leave at some hour if the practice's letters were let go, and goes to somebody outside.</summary>
    public static bool WaitsForRelease(Letter letter, Reminder? about, Person? reader) =>
        !Inside(letter.Kind, reader)
        && Unreachable(reader, letter.Kind) is null
        && (about is null || (!Waits(about, letter.Kind) && NotNeeded(about, letter.Id, letter.Kind) is null));

    /// <summary>Why this reader can get no such letter; null when they can.</summary>
    public static string? Unreachable(Person? reader, LetterKind kind) =>
        reader is null ? "The person is no longer known here."
        : string.IsNullOrWhiteSpace(reader.Email) ? "The person has no e-mail address."
        : !EmailAddress.TryParse(reader.Email, out _) ? "The person's e-mail address is not valid: correct it, then tell again."
        : reader.Stopped.Contains(kind) ? "The person asked for no more letters of this kind."
        : null;

    /// <summary>By the clock on the reader's wall.</summary>
    /// <returns>The moment from which the reader may be written to again; null when they may now.</returns>
    private static DateTimeOffset? QuietUntil(Practice practice, Person? reader, DateTimeOffset now)
    {
        var zone = TimeZoneInfo.TryFindSystemTimeZoneById(reader?.TimeZone ?? practice.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
        return QuietHours.Until(now, zone, practice.ReminderRules.Letters.Quiet);
    }

    /// <returns>Why it is not needed any more; null when it is.</returns>
    public static string? NotNeeded(Reminder reminder, Guid letterId, LetterKind kind) =>
        LetterKinds.DefinitionOf(kind) switch
        {
            { SaysBooking: true } when Overtaken(reminder, letterId) => "Not needed any more: the booking was changed before it left.",
            { EndsWithReminder: true } when reminder.Over => "Not needed any more: the reminder was over before it left.",
            { EndsWithAnswer: true } when reminder.Answer is not null => "Not needed any more: an answer came.",
            { EndsWithBooking: true } when reminder.BookedFor is null => "Not needed any more: the booking was changed before it left.",
            _ => null,
        };

    /// <summary>Lists for the practice's own staff, at the hour that they chose.</summary>
    public static bool ToStaff(LetterKind kind) => LetterKinds.DefinitionOf(kind).IsList;

    /// <summary>Whether a letter stays inside the practice: its lists, and whatever goes to its own fitters and managers.</summary>
    public static bool Inside(LetterKind kind, Person? reader) => ToStaff(kind) || Inside(reader);

    /// <summary>The practice's own fitters and managers.</summary>
    public static bool Inside(Person? reader) => reader?.Role is PersonRole.Fitter or PersonRole.Manager;

    /// <summary>Whether a letter keeps quiet hours: a list comes at the hour that its reader chose.</summary>
    public static bool KeepsQuietHours(LetterKind kind, DateTimeOffset? bookedFor, DateTimeOffset now) =>
        LetterKinds.DefinitionOf(kind) switch
        {
            { IsList: true } or { Hurry: LetterHurry.AtOnce } => false,
            { Hurry: LetterHurry.WaitsUnlessNear } => bookedFor is null || bookedFor > now.AddDays(1),
            _ => true,
        };

    /// <summary>A later letter to the same person says what became of the booking.</summary>
    private static bool Overtaken(Reminder reminder, Guid letterId)
    {
        var booking = reminder.Post.Where(l => LetterKinds.DefinitionOf(l.Kind).SaysBooking).ToList();
        var itself = booking.FirstOrDefault(l => l.LetterId == letterId);
        return itself is not null && booking.Last(l => l.To == itself.To) != itself;
    }

    /// <summary>A silent reminder's letters wait until it is heard again.</summary>
    public static bool Waits(Reminder reminder, LetterKind kind) =>
        reminder.State == ReminderState.Muted && LetterKinds.DefinitionOf(kind).EndsWithReminder;
}
