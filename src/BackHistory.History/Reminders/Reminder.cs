using System.Collections.Immutable;

namespace BackHistory.History.Reminders;

/// <summary>A reminder as it stands. Being open and having been told are separate facts.</summary>
public sealed partial record Reminder
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public Guid HorseId { get; init; }

    public Guid? SaddleId { get; init; }

    public ReminderRule Rule { get; init; }

    public ReminderState State { get; init; }

    public DateTimeOffset RaisedAt { get; init; }

    public Evidence Evidence { get; init; } = null!;

    public DateOnly? PutOffUntil { get; init; }

    public DateTimeOffset? BookedFor { get; init; }

    public string? ClosedBecause { get; init; }

    public Answer? Answer { get; init; }

    public ImmutableSortedDictionary<Guid, LetterState> Letters { get; init; } = ImmutableSortedDictionary<Guid, LetterState>.Empty;

    /// <summary>Nothing more is expected of anybody.</summary>
    public bool Over => State is ReminderState.Done or ReminderState.Closed or ReminderState.Withdrawn;

    public static Reminder Create(ReminderRaised e) => new()
    {
        Id = e.ReminderId,
        HorseId = e.HorseId,
        SaddleId = e.SaddleId,
        Rule = e.Rule,
        RaisedAt = e.TakenAt,
        Evidence = e.Evidence,
    };

    public Reminder Apply(LetterOwed e) => this with { Letters = Letters.SetItem(e.LetterId, LetterState.Owed) };

    public Reminder Apply(LetterSent e) => this with { Letters = Letters.SetItem(e.LetterId, LetterState.Sent) };

    public Reminder Apply(LetterBounced e) => this with { Letters = Letters.SetItem(e.LetterId, LetterState.Bounced) };

    public Reminder Apply(LetterGivenUp e) => this with { Letters = Letters.SetItem(e.LetterId, LetterState.GivenUp) };

    public Reminder Apply(ReminderAnswered e) => this with { Answer = e.Answer };

    public Reminder Apply(ReminderPutOff e) => this with { State = ReminderState.PutOff, PutOffUntil = e.Until };

    public Reminder Apply(VisitBooked e) => this with { State = ReminderState.Booked, BookedFor = e.For, PutOffUntil = null };

    public Reminder Apply(ReminderResolved e) => this with { State = ReminderState.Done };

    public Reminder Apply(ReminderClosed e) => this with { State = ReminderState.Closed, ClosedBecause = e.Reason };

    public Reminder Apply(ReminderWithdrawn e) => this with { State = ReminderState.Withdrawn, ClosedBecause = e.Reason };
}

public enum ReminderState { Open, PutOff, Booked, Done, Closed, Withdrawn }

public enum LetterState { Owed, Sent, GivenUp, Bounced }
