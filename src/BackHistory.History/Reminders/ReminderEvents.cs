namespace BackHistory.History.Reminders;

/// <summary>The life of one reminder.</summary>
public interface IReminderEvent : IHappened
{
    /// <summary>The horse it is about, so that the horse's own read models follow.</summary>
    Guid HorseId { get; }
}

/// <summary>The practice's rules found a reason to see the horse.</summary>
/// <param name="Evidence">The numbers it rests on, as they were on that day: an old decision stays explained.</param>
public sealed record ReminderRaised(
    Guid ReminderId, Guid HorseId, Guid? SaddleId, ReminderRule Rule, Evidence Evidence, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A letter is owed: the intent, before anything is sent.</summary>
/// <param name="To">The person's id; the address is looked up when it is sent.</param>
public sealed record LetterOwed(Guid HorseId, Guid LetterId, LetterKind Kind, Guid To, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The letter went out.</summary>
/// <param name="MessageId">The same for every attempt, so that a reader's program shows one letter.</param>
public sealed record LetterSent(Guid HorseId, Guid LetterId, string MessageId, string Through, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The letter came back: the reader's mail server would not have it.</summary>
/// <param name="Status">The enhanced status code of the delivery report (RFC 3463), for example <c>5.1.1</c>; never an address.</param>
public sealed record LetterBounced(Guid HorseId, Guid LetterId, string Status, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The letter cannot be sent, for example because the person has no address.</summary>
public sealed record LetterGivenUp(Guid HorseId, Guid LetterId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The reader answered.</summary>
/// <param name="NoteId">The note that holds the words, if there are any. Version 1 held them itself.</param>
public sealed record ReminderAnswered(Guid HorseId, Answer Answer, Guid? NoteId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The practice put the reminder off until a day.</summary>
public sealed record ReminderPutOff(Guid HorseId, DateOnly Until, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>A visit was booked for a time.</summary>
public sealed record VisitBooked(Guid HorseId, Guid BookingId, DateTimeOffset For, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The visit or the saddle work that the reminder asked for was done.</summary>
public sealed record ReminderResolved(Guid HorseId, Guid? VisitId, Guid? WorkId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>The practice closed the reminder without a visit.</summary>
public sealed record ReminderClosed(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

/// <summary>What it rested on was corrected or withdrawn.</summary>
public sealed record ReminderWithdrawn(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

public enum ReminderRule { ShapeChanged, CheckDue, MeasureAgain, VetCaution }

public enum LetterKind { OwnerRefit, OwnerCheck, VetCaution, GroundWithdrawn }

public enum Answer { Book, Later, NotNeeded }

/// <summary>What a reminder rests on.</summary>
/// <param name="AsOf">The day of the decision.</param>
/// <param name="Measure">The measure that drives it, for example <c>slope-left</c>; null for a calendar rule.</param>
/// <param name="Change">Since the baseline, in <paramref name="Unit"/>.</param>
/// <param name="P">Probability that the change is past the threshold.</param>
/// <param name="Due">The day the check was due, for a calendar rule.</param>
/// <param name="Sentence">The finding in plain words, as it was said.</param>
public sealed record Evidence(
    DateOnly AsOf, int RulesVersion, string? Measure, string? Station, string? Unit, double? Change, double? Sd, double? Threshold, double? P,
    DateOnly? Baseline, DateOnly? Due, string Sentence);
