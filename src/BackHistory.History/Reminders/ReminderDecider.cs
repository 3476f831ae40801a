using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Notes;

namespace BackHistory.History.Reminders;

/// <param name="Letters">Who is to be written to, and what.</param>
public sealed record RaiseReminder(
    Guid ReminderId, Guid HorseId, Guid? SaddleId, ReminderRule Rule, Evidence Evidence, IReadOnlyList<LetterToWrite> Letters, Guid By);

public sealed record LetterToWrite(Guid LetterId, LetterKind Kind, Guid To);

public sealed record NoteLetterSent(Guid LetterId, string MessageId, string Through, Guid By);

/// <param name="Status">Enhanced status code (RFC 3463).</param>
public sealed record NoteLetterBounced(Guid LetterId, string Status, Guid By);

public sealed record GiveUpLetter(Guid LetterId, string Reason, Guid By);

public sealed record AnswerReminder(Answer Answer, string? Words, Guid By);

public sealed record PutOffReminder(DateOnly Until, string Reason, Guid By);

public sealed record BookVisit(Guid BookingId, DateTimeOffset For, Guid By);

public sealed record ResolveReminder(Guid? VisitId, Guid? WorkId, Guid By);

public sealed record CloseReminder(string Reason, Guid By);

public sealed record WithdrawReminder(string Reason, IReadOnlyList<LetterToWrite> Letters, Guid By);

/// <summary>Decides what follows from a command about a reminder. Pure.</summary>
public static class ReminderDecider
{
    public static Decided Decide(Reminder? reminder, RaiseReminder c, DateTimeOffset now) =>
        reminder is not null
            ? ReminderRefusals.AlreadyRaised
            : Decided.Yes([
                new ReminderRaised(c.ReminderId, c.HorseId, c.SaddleId, c.Rule, c.Evidence, now, c.By),
                .. c.Letters.Select(l => new LetterOwed(c.HorseId, l.LetterId, l.Kind, l.To, now, c.By)),
            ]);

    public static Decided Decide(Reminder? reminder, NoteLetterSent c, DateTimeOffset now)
    {
        if (reminder is null || !reminder.Letters.TryGetValue(c.LetterId, out var state)) return ReminderRefusals.NoSuchLetter;
        // Told twice by two workers, recorded once.
        return state == LetterState.Sent ? Decided.Yes() : Decided.Yes(new LetterSent(reminder.HorseId, c.LetterId, c.MessageId, c.Through, now, c.By));
    }

    public static Decided Decide(Reminder? reminder, NoteLetterBounced c, DateTimeOffset now)
    {
        if (reminder is null || !reminder.Letters.TryGetValue(c.LetterId, out var state)) return ReminderRefusals.NoSuchLetter;
        // A report that is read twice is recorded once.
        return state == LetterState.Bounced ? Decided.Yes() : Decided.Yes(new LetterBounced(reminder.HorseId, c.LetterId, c.Status, now, c.By));
    }

    public static Decided Decide(Reminder? reminder, GiveUpLetter c, DateTimeOffset now)
    {
        if (reminder is null || !reminder.Letters.TryGetValue(c.LetterId, out var state)) return ReminderRefusals.NoSuchLetter;
        return state == LetterState.Owed ? Decided.Yes(new LetterGivenUp(reminder.HorseId, c.LetterId, c.Reason, now, c.By)) : Decided.Yes();
    }

    public static Decided Decide(Reminder? reminder, AnswerReminder c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over) return over;
        if (c.Words?.Length > 1000) return Decided.No("too-long", "Keep the answer under 1000 letters.");
        // Words may tell of a person: they lie beside the event, where they can be erased.
        var note = Note.Of(DeterministicId.Of("answer", reminder!.Id.ToString(), (reminder.Version + 1).ToString(CultureInfo.InvariantCulture)), c.Words, null, c.By, now);
        return Decided.Yes(new ReminderAnswered(reminder.HorseId, c.Answer, note?.Id, now, c.By)).With(note);
    }

    public static Decided Decide(Reminder? reminder, PutOffReminder c, DateOnly today, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over) return over;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        if (c.Until <= today || c.Until > today.AddYears(1))
            return Decided.No("bad-date", "A reminder is put off until a day after today and within a year.");
        return Decided.Yes(new ReminderPutOff(reminder!.HorseId, c.Until, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Reminder? reminder, BookVisit c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over) return over;
        if (c.For < now || c.For > now.AddYears(1)) return Decided.No("bad-date", "A visit is booked for a time after now and within a year.");
        return Decided.Yes(new VisitBooked(reminder!.HorseId, c.BookingId, c.For, now, c.By));
    }

    public static Decided Decide(Reminder? reminder, ResolveReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over : Decided.Yes(new ReminderResolved(reminder!.HorseId, c.VisitId, c.WorkId, now, c.By));

    public static Decided Decide(Reminder? reminder, CloseReminder c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over) return over;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        return Decided.Yes(new ReminderClosed(reminder!.HorseId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Reminder? reminder, WithdrawReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over
            ? over
            : Decided.Yes([
                new ReminderWithdrawn(reminder!.HorseId, c.Reason, now, c.By),
                .. c.Letters.Select(l => new LetterOwed(reminder.HorseId, l.LetterId, l.Kind, l.To, now, c.By)),
            ]);

    private static Refused? Standing(Reminder? reminder) =>
        reminder is null ? ReminderRefusals.NoSuchReminder : reminder.Over ? ReminderRefusals.Over : null;
}

public static class ReminderRefusals
{
    public static readonly Refused NoSuchReminder = new("no-such-reminder", "There is no such reminder in this practice.", RefusalKind.NotFound);

    public static readonly Refused NoSuchLetter = new("no-such-letter", "There is no such letter.", RefusalKind.NotFound);

    public static readonly Refused AlreadyRaised = new("already-raised", "This reminder was raised already.", RefusalKind.Conflict);

    public static readonly Refused Over = new("reminder-over", "This reminder is done or closed already; nothing was changed.", RefusalKind.Conflict);
}
