using BackHistory.History.Reminders.Policy;

namespace BackHistory.History.Reminders;

/// <summary>The life of one reminder.</summary>
public interface IReminderEvent : IHappened
{
    /// <summary>The horse it is about, so that the horse's own read models follow.</summary>
    Guid HorseId { get; }
}

/// <summary>The practice's rules found a reason to see the horse.</summary>
/// <param name="Evidence">The numbers it rests on, as they were on that day: an old decision stays explained.</param>
/// <param name="HoldUntil">Its ground must still stand on this day before anybody is told; null is open at once.</param>
/// <param name="WorkId">The saddle work that was never looked at again, for the rule that asks for it.</param>
public sealed record ReminderRaised(
    Guid ReminderId,
    Guid HorseId,
    Guid? SaddleId,
    ReminderRule Rule,
    Evidence Evidence,
    DateTimeOffset TakenAt,
    Guid By,
    DateOnly? HoldUntil = null,
    Guid? WorkId = null
) : IReminderEvent;

/// <summary>The ground of a pending reminder held: from now on it is open.</summary>
public sealed record ReminderOpened(Guid HorseId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>Something weightier silences it for now: its ground stands, nobody is told.</summary>
/// <param name="CoveredBy">The reminder that says more; null where the horse's life is the reason.</param>
public sealed record ReminderMuted(Guid HorseId, MuteReason Because, Guid? CoveredBy, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>Nothing weightier speaks any more: the reminder comes back as it was.</summary>
public sealed record ReminderUnmuted(Guid HorseId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The day until which it was put off has come, and its ground still stands.</summary>
public sealed record ReminderResumed(Guid HorseId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A letter is owed: the intent, before anything is sent.</summary>
/// <param name="To">The person's id; the address is looked up when it is sent.</param>
public sealed record LetterOwed(Guid HorseId, Guid LetterId, LetterKind Kind, Guid To, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The letter went out.</summary>
/// <param name="MessageId">The same for every attempt, so that a reader's program shows one letter.</param>
public sealed record LetterSent(Guid HorseId, Guid LetterId, string MessageId, string Through, DateTimeOffset TakenAt, Guid By)
    : IReminderEvent;

/// <summary>The letter cannot be sent, for example because the person has no address.</summary>
public sealed record LetterGivenUp(Guid HorseId, Guid LetterId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A mail server would not take the letter for now; it is tried again.</summary>
public sealed record LetterDeferred(Guid HorseId, Guid LetterId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A mail server that has the letter reports that it has not got through yet. It goes on trying; we do not.</summary>
public sealed record LetterDelayed(Guid HorseId, Guid LetterId, string Report, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The reader's mail server reports that it has the letter.</summary>
public sealed record LetterDelivered(Guid HorseId, Guid LetterId, string Report, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>It came back: the reader will not get it.</summary>
public sealed record LetterBounced(Guid HorseId, Guid LetterId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The reader answered.</summary>
/// <param name="NoteId">The note that holds the words, if there are any. Version 1 held them itself.</param>
public sealed record ReminderAnswered(Guid HorseId, Answer Answer, Guid? NoteId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The practice put the reminder off until a day.</summary>
public sealed record ReminderPutOff(Guid HorseId, DateOnly Until, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A visit was booked for a time.</summary>
/// <param name="BookingId">Stays the same when the date moves: a calendar sees one appointment.</param>
/// <param name="Sequence">Counts the changes of this booking.</param>
/// <param name="Fitter">Who goes; null while nobody was named.</param>
public sealed record VisitBooked(
    Guid HorseId,
    Guid BookingId,
    DateTimeOffset For,
    DateTimeOffset TakenAt,
    Guid By,
    int Sequence = 0,
    Guid? Fitter = null
) : IReminderEvent;

/// <summary>The booked visit will not take place; the reminder waits for another.</summary>
public sealed record BookingCancelled(Guid HorseId, Guid BookingId, string Reason, DateTimeOffset TakenAt, Guid By, int Sequence = 0)
    : IReminderEvent;

/// <summary>The booked day is over, and what the reminder asks for was not done.</summary>
public sealed record BookingPassed(Guid HorseId, Guid BookingId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The visit or the saddle work that the reminder asked for was done.</summary>
public sealed record ReminderResolved(Guid HorseId, Guid? VisitId, Guid? WorkId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The practice closed the reminder without a visit.</summary>
public sealed record ReminderClosed(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>Somebody of the practice says that a veterinary surgeon has cleared the horse: what the caution silenced may be said
/// again.</summary>
public sealed record VetCleared(Guid HorseId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>What it rested on was corrected or withdrawn.</summary>
public sealed record ReminderWithdrawn(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>Why a reminder is raised. What a rule must see to do so stands in <see cref="ReminderTriggers"/>.</summary>
public enum ReminderRule
{
    /// <summary>The back has left the shape that the saddle was set to.</summary>
    ShapeChanged,

    /// <summary>A visit is due by the calendar or by growing ignorance.</summary>
    CheckDue,

    /// <summary>The last measurement is too poor to judge by.</summary>
    MeasureAgain,

    /// <summary>Loss on one side: a veterinary surgeon first.</summary>
    VetCaution,

    /// <summary>The sides have become unlike.</summary>
    SidesUnlike,

    /// <summary>Loss of shape on both sides together with weight, quickly: a veterinary surgeon first.</summary>
    FastLoss,

    /// <summary>Weight or condition has changed.</summary>
    WeightChanged,

    /// <summary>A growing horse is on its way out of its saddle.</summary>
    Growing,

    /// <summary>A saddle was altered and never looked at again.</summary>
    NotRechecked,

    /// <summary>There is no visit on record.</summary>
    NoVisit,
}

/// <summary>Why a reminder is silent though its ground stands.</summary>
public enum MuteReason
{
    CoveredByAnother,
    OutOfWork,

    /// <summary>A caution was ended by hand, and nobody has said that the veterinary surgeon cleared the horse.</summary>
    AwaitsVet,
}

public enum Answer
{
    Book,
    Later,
    NotNeeded,

    /// <summary>To a caution: a veterinary surgeon has looked at the horse. What was found is not said by it.</summary>
    VetHasSeen,

    /// <summary>The reader cancelled the visit that was booked, by the link in their letter.</summary>
    Cancelled,
}

/// <summary>What a reader may answer.</summary>
public static class Answers
{
    /// <summary>The answers that a letter about such a reminder offers, the one that is hoped for first.</summary>
    public static IReadOnlyList<Answer> Offered(ReminderRule rule) =>
        [Families.FamilyOf(rule) == ReminderFamily.Vet ? Answer.VetHasSeen : Answer.Book, Answer.Later, Answer.NotNeeded];
}
