using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Notes;

namespace BackHistory.History.Reminders;

/// <summary>Decides what follows from a command about a reminder. Pure.</summary>
public static class ReminderDecider
{
    public static Decided Decide(Reminder? reminder, RaiseReminder c, DateTimeOffset now) =>
        reminder is not null
            ? ReminderRefusals.AlreadyRaised
            : Decided.Yes([
                new ReminderRaised(c.ReminderId, c.HorseId, c.SaddleId, c.Rule, c.Evidence, now, c.By, c.HoldUntil, c.WorkId),
                .. Owe(c.HorseId, c.Letters, now, c.By),
                .. c.TakesUp is { Answer: { } said } before
                    ? (object[])[new ReminderAnswered(c.HorseId, said, before.AnswerNote, now, c.By)]
                    : [],
                .. c.PutOff is { } p ? (object[])[new ReminderPutOff(c.HorseId, p.Until, p.Reason, now, c.By)] : [],
                .. c.Booking is { } b ? (object[])[new VisitBooked(c.HorseId, b.BookingId, b.For, now, c.By, b.Sequence, b.Fitter)] : [],
            ]);

    public static Decided Decide(Reminder? reminder, OpenPending c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over
        : reminder!.State != ReminderState.Pending ? Decided.Yes()
        : Decided.Yes([new ReminderOpened(reminder.HorseId, now, c.By), .. Owe(reminder.HorseId, c.Letters, now, c.By)]);

    public static Decided Decide(Reminder? reminder, MuteReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over
        : reminder!.State == ReminderState.Muted && reminder.MutedBecause == c.Because && reminder.CoveredBy == c.CoveredBy ? Decided.Yes()
        : Decided.Yes(new ReminderMuted(reminder.HorseId, c.Because, c.CoveredBy, now, c.By));

    public static Decided Decide(Reminder? reminder, UnmuteReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over
        : reminder!.State != ReminderState.Muted ? Decided.Yes()
        : Decided.Yes(new ReminderUnmuted(reminder.HorseId, now, c.By));

    public static Decided Decide(Reminder? reminder, ResumeReminder c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        return reminder!.State switch
        {
            ReminderState.PutOff => Decided.Yes([
                new ReminderResumed(reminder.HorseId, now, c.By),
                .. Owe(reminder.HorseId, c.Letters, now, c.By),
            ]),
            ReminderState.Booked => Decided.Yes(new BookingPassed(reminder.HorseId, reminder.BookingId!.Value, now, c.By)),
            _ => Decided.Yes(),
        };
    }

    public static Decided Decide(Reminder? reminder, OweLetter c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over
        : reminder!.Letters.ContainsKey(c.Letter.LetterId) ? Decided.Yes()
        : Decided.Yes([.. Owe(reminder.HorseId, [c.Letter], now, c.By)]);

    public static Decided Decide(Reminder? reminder, NoteLetterSent c, DateTimeOffset now)
    {
        if (reminder is null || !reminder.Letters.TryGetValue(c.LetterId, out var state))
            return ReminderRefusals.NoSuchLetter;
        // Told twice by two workers, recorded once.
        return state is not (LetterState.Owed or LetterState.Deferred)
            ? Decided.Yes()
            : Decided.Yes(new LetterSent(reminder.HorseId, c.LetterId, c.MessageId, c.Through, now, c.By));
    }

    public static Decided Decide(Reminder? reminder, GiveUpLetter c, DateTimeOffset now)
    {
        if (reminder is null || !reminder.Letters.TryGetValue(c.LetterId, out var state))
            return ReminderRefusals.NoSuchLetter;
        return state is LetterState.Owed or LetterState.Deferred
            ? Decided.Yes(new LetterGivenUp(reminder.HorseId, c.LetterId, c.Reason, now, c.By))
            : Decided.Yes();
    }

    public static Decided Decide(Reminder? reminder, NoteDelivery c, DateTimeOffset now)
    {
        if (reminder?.Post.FirstOrDefault(l => l.LetterId == c.LetterId) is not { } letter)
            return ReminderRefusals.NoSuchLetter;
        var horse = reminder.HorseId;
        if (!Letter.Heeds(letter.State, c.Word))
            return Decided.Yes();
        return c.Word switch
        {
            DeliveryWord.Deferred => Decided.Yes(new LetterDeferred(horse, c.LetterId, c.Text, now, c.By)),
            DeliveryWord.Delivered => Decided.Yes(new LetterDelivered(horse, c.LetterId, c.Text, now, c.By)),
            DeliveryWord.Bounced => Decided.Yes(new LetterBounced(horse, c.LetterId, c.Text, now, c.By)),
            _ => letter.Note == c.Text ? Decided.Yes() : Decided.Yes(new LetterDelayed(horse, c.LetterId, c.Text, now, c.By)),
        };
    }

    public static Decided Decide(Reminder? reminder, AnswerReminder c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (!Answers.Offered(reminder!.Rule).Contains(c.Answer))
            return Decided.No("other-question", "This reminder does not ask that; load the page again.");
        if (c.Words?.Length > 1000)
            return Decided.No("too-long", "Keep the answer under 1000 letters.");
        if ((c.Answer == Answer.Later) != c.LaterUntil.HasValue)
            return Decided.No("no-day", "Later needs the day until which it waits, and no other answer has one.");
        // The same answer twice, with nothing said besides and nothing in between, is one answer.
        if (
            c.Answer == reminder.Answer
            && string.IsNullOrWhiteSpace(c.Words)
            && (c.LaterUntil is null || c.LaterUntil == reminder.PutOffUntil)
        )
            return Decided.Yes();
        var note = NoteOf(reminder, c.Words, c.By, now);
        var answered = new ReminderAnswered(reminder.HorseId, c.Answer, note?.Id, now, c.By);
        if (c.Answer == Answer.Later)
            return Decided
                .Yes(answered, new ReminderPutOff(reminder.HorseId, c.LaterUntil!.Value, "The reader asked for later.", now, c.By))
                .With(note);
        // Whoever had asked for later and now does not is heard at once.
        return reminder is { State: ReminderState.PutOff, Answer: Answer.Later }
            ? Decided.Yes(new ReminderResumed(reminder.HorseId, now, c.By), answered).With(note)
            : Decided.Yes(answered).With(note);
    }

    private static Guid AnswerNoteOf(Reminder reminder) =>
        DeterministicId.From("answer", reminder.Id.ToString(), (reminder.Version + 1).ToString(CultureInfo.InvariantCulture));

    public static Decided Decide(Reminder? reminder, PutOffReminder c, DateOnly today, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (ReminderRefusals.OfPutOff(c.Until, today) is { } bad)
            return bad;
        return Decided.Yes(new ReminderPutOff(reminder!.HorseId, c.Until, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Reminder? reminder, BookVisit c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (c.For < now || c.For > now.AddYears(1))
            return Decided.No("bad-date", "A visit is booked for a time after now and within a year.");
        // Booked for the same hour with the same fitter by two people, it is booked once, and told once.
        if (
            reminder is { State: ReminderState.Booked, BookedFor: { } stands }
            && stands == c.For
            && (c.Fitter ?? reminder.Fitter) == reminder.Fitter
            && (
                c.Tell is not { } to
                || reminder.Post.LastOrDefault(l => LetterKinds.DefinitionOf(l.Kind).SetsCalendar) is { } last
                    && last.To == to
                    && !last.Failed
            )
        )
            return Decided.Yes();
        var moves = reminder!.BookingId is not null;
        var booked = new VisitBooked(
            reminder.HorseId,
            reminder.BookingId ?? c.BookingId,
            c.For,
            now,
            c.By,
            moves ? reminder.BookingSequence + 1 : 0,
            c.Fitter ?? reminder.Fitter
        );
        return Decided.Yes([
            booked,
            .. Owe(reminder.HorseId, LettersOf.To(c.Tell, reminder, LetterKind.BookingMade), now, c.By),
            .. ToPractice(reminder, LetterKind.VisitMoved, c.Practice, now, c.By),
        ]);
    }

    public static Decided Decide(Reminder? reminder, CancelBooking c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (reminder is not { BookingId: { } booking, BookedFor: not null })
            return ReminderRefusals.NotBooked;
        return Decided.Yes([
            new BookingCancelled(reminder.HorseId, booking, c.Reason.Trim(), now, c.By, reminder.BookingSequence + 1),
            .. Owe(reminder.HorseId, LettersOf.To(c.Tell, reminder, LetterKind.BookingCancelled), now, c.By),
        ]);
    }

    public static Decided Decide(Reminder? reminder, CancelOwnBooking c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (c.Words?.Length > 1000)
            return Decided.No("too-long", "Keep the answer under 1000 letters.");
        if (reminder is not { BookingId: { } booking, BookedFor: { } at })
            return ReminderRefusals.NotBooked;
        if (at <= now)
            return Decided.No("begun", "The visit has begun, or is over.", RefusalKind.Conflict);
        var note = Note.From(AnswerNoteOf(reminder), c.Words, null, c.By, now);
        return Decided
            .Yes([
                new BookingCancelled(reminder.HorseId, booking, "The reader cancelled it.", now, c.By, reminder.BookingSequence + 1),
                new ReminderAnswered(reminder.HorseId, Answer.Cancelled, note?.Id, now, c.By),
                .. Owe(reminder.HorseId, LettersOf.To(c.Tell, reminder, LetterKind.BookingCancelled), now, c.By),
                .. ToPractice(reminder, LetterKind.VisitCancelled, c.Practice, now, c.By),
            ])
            .With(note);
    }

    /// <summary>What a reader did about a visit, told to whoever of the practice is to know.</summary>
    private static IEnumerable<object> ToPractice(
        Reminder reminder,
        LetterKind kind,
        IReadOnlyList<Guid>? readers,
        DateTimeOffset now,
        Guid by
    ) => (readers ?? []).Distinct().SelectMany(to => Owe(reminder.HorseId, LettersOf.To(to, reminder, kind), now, by));

    public static Decided Decide(Reminder? reminder, TellAgain c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (reminder!.State is ReminderState.Pending or ReminderState.Muted)
            return Decided.No(
                "silent",
                "Nobody is told while this reminder waits or something weightier is said of the horse.",
                RefusalKind.Conflict
            );
        var kind = LettersOf.KindOf(reminder.Rule);
        if (!c.EvenSo && reminder.Post.LastOrDefault(l => WrittenLately(l, kind, c.To, now)) is { } lately)
            return ReminderRefusals.WrittenLately(now - (lately.SentAt ?? lately.OwedAt));
        return Owe(reminder, kind, c.To, now, c.By);
    }

    /// <summary>One that still waits is refused whatever was said.</summary>
    private static bool WrittenLately(LetterTrail letter, LetterKind kind, Guid to, DateTimeOffset now) =>
        letter.Kind == kind && letter.To == to && letter.Reached && now - (letter.SentAt ?? letter.OwedAt) < ReminderRefusals.SoonAfter;

    public static Decided Decide(Reminder? reminder, AskVet c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over : Owe(reminder!, LetterKind.VetNote, c.To, now, c.By);

    public static Decided Decide(Reminder? reminder, ResolveReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over ? over : Decided.Yes(new ReminderResolved(reminder!.HorseId, c.VisitId, c.WorkId, now, c.By));

    public static Decided Decide(Reminder? reminder, CloseReminder c, DateTimeOffset now)
    {
        if (Standing(reminder) is { } over)
            return over;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided.Yes(new ReminderClosed(reminder!.HorseId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Reminder? reminder, ClearByVet c, DateTimeOffset now) =>
        reminder is null ? ReminderRefusals.NoSuchReminder
        : Families.FamilyOf(reminder.Rule) != ReminderFamily.Vet
            ? Decided.No("no-caution", "This reminder is no caution to see a vet.", RefusalKind.Conflict)
        : reminder.ClearedAt is not null || reminder.State == ReminderState.Withdrawn ? Decided.Yes()
        : string.IsNullOrWhiteSpace(c.Words) || c.Words.Length > 1000
            ? Decided.No("no-words", "Say in up to 1000 letters which vet said so, when, and what.", place: "words")
        : Cleared(reminder, c, now);

    /// <summary>Letters about the saddle leave again after this: what it rests on is kept as the answer to the caution.</summary>
    private static Decided Cleared(Reminder reminder, ClearByVet c, DateTimeOffset now)
    {
        var note = NoteOf(reminder, c.Words, c.By, now);
        return Decided
            .Yes(
                new ReminderAnswered(reminder.HorseId, Answer.VetHasSeen, note?.Id, now, c.By),
                new VetCleared(reminder.HorseId, now, c.By)
            )
            .With(note);
    }

    /// <summary>Words may tell of a person: they lie beside the event, where they can be erased.</summary>
    private static Note? NoteOf(Reminder reminder, string? words, Guid by, DateTimeOffset now) =>
        Note.From(AnswerNoteOf(reminder), words, null, by, now);

    public static Decided Decide(Reminder? reminder, WithdrawReminder c, DateTimeOffset now) =>
        Standing(reminder) is { } over
            ? over
            : Decided.Yes([
                .. c.CallsOff && reminder is { BookingId: { } booking, BookedFor: { } at } && at > now
                    ? (object[])[new BookingCancelled(reminder.HorseId, booking, c.Reason, now, c.By, reminder.BookingSequence + 1)]
                    : [],
                new ReminderWithdrawn(reminder!.HorseId, c.Reason, now, c.By),
                .. Owe(reminder.HorseId, c.Letters, now, c.By),
            ]);

    private static Decided Owe(Reminder reminder, LetterKind kind, Guid to, DateTimeOffset now, Guid by) =>
        reminder.Post.Any(l => l.Kind == kind && l.To == to && l.State is LetterState.Owed or LetterState.Deferred)
            ? Decided.No("letter-waiting", "Such a letter to this person has not left yet.", RefusalKind.Conflict)
            : Decided.Yes([.. Owe(reminder.HorseId, LettersOf.To(to, reminder, kind), now, by)]);

    private static IEnumerable<object> Owe(Guid horse, IReadOnlyList<LetterToWrite>? letters, DateTimeOffset now, Guid by) =>
        (letters ?? []).Select(l => new LetterOwed(horse, l.LetterId, l.Kind, l.To, now, by));

    private static Refused? Standing(Reminder? reminder) =>
        reminder is null ? ReminderRefusals.NoSuchReminder
        : reminder.Over ? ReminderRefusals.Over
        : null;
}
