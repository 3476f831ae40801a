namespace BackHistory.History.Reminders;

/// <param name="Letters">Who is to be written to, and what; nobody while it is pending.</param>
/// <param name="Booking">A visit that is booked already, taken over from the reminder that this one covers or takes up.</param>
/// <param name="TakesUp">An earlier one of the same ground whose end was a mistake: what was answered goes on with this one.</param>
/// <param name="PutOff">Until when that one was put off.</param>
public sealed record RaiseReminder(
    Guid ReminderId,
    Guid HorseId,
    Guid? SaddleId,
    ReminderRule Rule,
    Evidence Evidence,
    IReadOnlyList<LetterToWrite> Letters,
    Guid By,
    DateOnly? HoldUntil = null,
    Guid? WorkId = null,
    BookVisit? Booking = null,
    Reminder? TakesUp = null,
    PutOffReminder? PutOff = null
)
{
    /// <summary>With its evidence in words.</summary>
    public RaiseReminder WithSentence(ReminderSentence sentence, string horse) =>
        this with
        {
            Evidence = Evidence with { Sentence = sentence(Rule, Evidence, horse) },
        };
}

public sealed record LetterToWrite(Guid LetterId, LetterKind Kind, Guid To);

/// <summary>The ground of a pending reminder held.</summary>
public sealed record OpenPending(IReadOnlyList<LetterToWrite> Letters, Guid By);

public sealed record MuteReminder(MuteReason Because, Guid? CoveredBy, Guid By);

public sealed record UnmuteReminder(Guid By);

/// <summary>The day until which it was put off, or on which a visit was booked, has come and gone.</summary>
public sealed record ResumeReminder(IReadOnlyList<LetterToWrite> Letters, Guid By);

/// <summary>Somebody else is to be told.</summary>
public sealed record OweLetter(LetterToWrite Letter, Guid By);

public sealed record NoteLetterSent(Guid LetterId, string MessageId, string Through, Guid By);

public sealed record GiveUpLetter(Guid LetterId, string Reason, Guid By);

/// <summary>What a mail server answered or reported about a letter.</summary>
public sealed record NoteDelivery(Guid LetterId, DeliveryWord Word, string Text, Guid By);

/// <param name="LaterUntil">Until when "later" puts it off.</param>
public sealed record AnswerReminder(Answer Answer, string? Words, Guid By, DateOnly? LaterUntil = null);

public sealed record PutOffReminder(DateOnly Until, string Reason, Guid By);

/// <param name="BookingId">For a first booking; one that moves keeps its own.</param>
/// <param name="Tell">Who is written to about the date; null for nobody.</param>
/// <param name="Fitter">Who goes; null while nobody was named.</param>
/// <param name="Practice">Whoever of the practice is written to because a reader moved it.</param>
/// <param name="Sequence">How often the booking has changed, where it is taken over.</param>
public sealed record BookVisit(
    Guid BookingId,
    DateTimeOffset For,
    Guid By,
    Guid? Tell = null,
    Guid? Fitter = null,
    IReadOnlyList<Guid>? Practice = null,
    int Sequence = 0
);

/// <param name="Tell">Who is written to; null for nobody.</param>
public sealed record CancelBooking(string Reason, Guid By, Guid? Tell = null);

/// <summary>The reader cancels the visit that is booked.</summary>
/// <param name="Words">Why, or what would suit them, in their own words.</param>
/// <param name="Tell">The reader: the visit goes from their calendar.</param>
/// <param name="Practice">Whoever of the practice is written to.</param>
public sealed record CancelOwnBooking(string? Words, Guid By, Guid Tell, IReadOnlyList<Guid> Practice);

/// <summary>The finding is told once more.</summary>
/// <param name="EvenSo">Also where such a letter went to them within the hour.</param>
public sealed record TellAgain(Guid To, Guid By, bool EvenSo = true);

/// <summary>A veterinary surgeon is asked to look, with the evidence.</summary>
public sealed record AskVet(Guid To, Guid By);

public sealed record ResolveReminder(Guid? VisitId, Guid? WorkId, Guid By);

public sealed record CloseReminder(string Reason, Guid By);

/// <summary>A veterinary surgeon has cleared the horse.</summary>
/// <param name="Words">Who said so, and what.</param>
public sealed record ClearByVet(Guid By, string Words);

/// <param name="CallsOff">A visit that is booked for it is called off.</param>
public sealed record WithdrawReminder(string Reason, IReadOnlyList<LetterToWrite> Letters, Guid By, bool CallsOff = false);
