using System.Collections.Immutable;
using System.Globalization;

namespace BackHistory.History.Reminders;

/// <summary>A reminder as it stands. Being active, having been told and having been answered are separate facts.</summary>
public sealed partial record Reminder : IFolded<Reminder>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public Guid HorseId { get; init; }

    public Guid? SaddleId { get; init; }

    public ReminderRule Rule { get; init; }

    public ReminderState State { get; init; }

    public DateTimeOffset RaisedAt { get; init; }

    public Evidence Evidence { get; init; } = null!;

    /// <summary>The work that was never looked at again.</summary>
    public Guid? WorkId { get; init; }

    /// <summary>While pending: the day on which its ground must still stand.</summary>
    public DateOnly? HoldUntil { get; init; }

    /// <summary>While muted: what it comes back to.</summary>
    public ReminderState? Before { get; init; }

    public MuteReason? MutedBecause { get; init; }

    public Guid? CoveredBy { get; init; }

    public DateOnly? PutOffUntil { get; init; }

    public string? PutOffBecause { get; init; }

    public DateTimeOffset? BookedFor { get; init; }

    /// <summary>For when the visit was booked before it was moved or cancelled, which letters name; null of a first booking.</summary>
    public DateTimeOffset? BookedBefore { get; init; }

    /// <summary>Of the last booking, cancelled or not.</summary>
    public Guid? BookingId { get; init; }

    public int BookingSequence { get; init; }

    /// <summary>Who goes to the booked visit.</summary>
    public Guid? Fitter { get; init; }

    public string? ClosedBecause { get; init; }

    /// <summary>When somebody closed it, or a vet's note answered it: for a while it is not raised again on the same ground.</summary>
    public DateTimeOffset? ClosedAt { get; init; }

    /// <summary>When somebody said that the veterinary surgeon has cleared the horse; null for other reminders, and before.</summary>
    public DateTimeOffset? ClearedAt { get; init; }

    /// <summary>A caution that was ended by hand, without the word that the veterinary surgeon has cleared the horse.</summary>
    public bool AwaitsVet =>
        Families.FamilyOf(Rule) == ReminderFamily.Vet
        && State is ReminderState.Done or ReminderState.Closed
        && ClosedAt is not null
        && ClearedAt is null;

    /// <summary>The visit or the work that resolved it.</summary>
    public Guid? ResolvedByVisit { get; init; }

    public Guid? ResolvedByWork { get; init; }

    public Answer? Answer { get; init; }

    /// <summary>The note that holds the words of the answer.</summary>
    public Guid? AnswerNote { get; init; }

    public DateTimeOffset? AnsweredAt { get; init; }

    /// <summary>When somebody was first told.</summary>
    public DateTimeOffset? ToldAt { get; init; }

    public ImmutableSortedDictionary<Guid, LetterState> Letters { get; init; } = ImmutableSortedDictionary<Guid, LetterState>.Empty;

    /// <summary>The same letters in the order in which they were owed.</summary>
    public ImmutableList<LetterTrail> Post { get; init; } = [];

    /// <summary>Nothing more is expected of anybody.</summary>
    public bool Over => State is ReminderState.Done or ReminderState.Closed or ReminderState.Withdrawn;

    /// <summary>Something is expected of somebody now.</summary>
    public bool Active => State is ReminderState.Open or ReminderState.PutOff or ReminderState.Booked;

    /// <summary>The same as long as nobody booked, moved, cancelled, put off, answered or ended it: what a page gives back so that its
    /// reader is asked when another was there first. A method, for it is not kept.</summary>
    public string StandingTag() =>
        string.Join(
            '.',
            State == ReminderState.Muted ? Before : State,
            BookedFor?.UtcTicks.ToString(CultureInfo.InvariantCulture),
            BookingSequence.ToString(CultureInfo.InvariantCulture),
            Fitter?.ToString("N"),
            PutOffUntil?.DayNumber.ToString(CultureInfo.InvariantCulture),
            Answer,
            AnsweredAt?.UtcTicks.ToString(CultureInfo.InvariantCulture)
        );

    /// <inheritdoc/>
    public static Reminder? After(Reminder? before, object e) =>
        (before, e) switch
        {
            (_, ReminderRaised d) => From(d),
            (null, _) => null,
            ({ } known, ReminderOpened d) => known.Then(d),
            ({ } known, ReminderMuted d) => known.Then(d),
            ({ } known, ReminderUnmuted d) => known.Then(d),
            ({ } known, ReminderResumed d) => known.Then(d),
            ({ } known, LetterOwed d) => known.Then(d),
            ({ } known, LetterSent d) => known.Then(d),
            ({ } known, LetterGivenUp d) => known.Then(d),
            ({ } known, LetterDeferred d) => known.Then(d),
            ({ } known, LetterDelayed d) => known.Then(d),
            ({ } known, LetterDelivered d) => known.Then(d),
            ({ } known, LetterBounced d) => known.Then(d),
            ({ } known, ReminderAnswered d) => known.Then(d),
            ({ } known, ReminderPutOff d) => known.Then(d),
            ({ } known, VisitBooked d) => known.Then(d),
            ({ } known, BookingCancelled d) => known.Then(d),
            ({ } known, BookingPassed d) => known.Then(d),
            ({ } known, ReminderResolved d) => known.Then(d),
            ({ } known, ReminderClosed d) => known.Then(d),
            ({ } known, VetCleared d) => known.Then(d),
            ({ } known, ReminderWithdrawn d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Reminder), e),
        };

    private static Reminder From(ReminderRaised e) =>
        new()
        {
            Id = e.ReminderId,
            HorseId = e.HorseId,
            SaddleId = e.SaddleId,
            Rule = e.Rule,
            WorkId = e.WorkId,
            RaisedAt = e.TakenAt,
            Evidence = e.Evidence,
            HoldUntil = e.HoldUntil,
            State = e.HoldUntil is null ? ReminderState.Open : ReminderState.Pending,
        };

    private Reminder Then(ReminderOpened e) => this with { State = ReminderState.Open, HoldUntil = null };

    private Reminder Then(ReminderMuted e) =>
        this with
        {
            State = ReminderState.Muted,
            Before = State == ReminderState.Muted ? Before : State,
            MutedBecause = e.Because,
            CoveredBy = e.CoveredBy,
        };

    private Reminder Then(ReminderUnmuted e) =>
        this with
        {
            State = Before ?? ReminderState.Open,
            Before = null,
            MutedBecause = null,
            CoveredBy = null,
        };

    private Reminder Then(ReminderResumed e) => Unanswered().In(ReminderState.Open) with { PutOffUntil = null, PutOffBecause = null };

    private Reminder Then(LetterOwed e) =>
        this with
        {
            Letters = Letters.SetItem(e.LetterId, LetterState.Owed),
            Post = Post.Add(new LetterTrail(e.LetterId, e.Kind, e.To, LetterState.Owed, e.TakenAt)),
        };

    private Reminder Then(LetterSent e) => Went(e.LetterId, LetterState.Sent, e.TakenAt, e.Through) with { ToldAt = ToldAt ?? e.TakenAt };

    private Reminder Then(LetterGivenUp e) => Went(e.LetterId, LetterState.GivenUp, null, e.Reason);

    private Reminder Then(LetterDeferred e) => Went(e.LetterId, LetterState.Deferred, null, e.Reason);

    private Reminder Then(LetterDelayed e) => Went(e.LetterId, LetterState.Sent, null, e.Report);

    private Reminder Then(LetterDelivered e) => Went(e.LetterId, LetterState.Delivered, null, e.Report);

    private Reminder Then(LetterBounced e) => Went(e.LetterId, LetterState.Bounced, null, e.Reason);

    private Reminder Then(ReminderAnswered e) => this with { Answer = e.Answer, AnswerNote = e.NoteId, AnsweredAt = e.TakenAt };

    private Reminder Then(ReminderPutOff e) =>
        In(ReminderState.PutOff) with
        {
            BookedFor = null,
            PutOffUntil = e.Until,
            PutOffBecause = e.Reason,
        };

    private Reminder Then(VisitBooked e) =>
        // Whoever cancelled a visit and has another one has not cancelled that.
        (Answer == Reminders.Answer.Cancelled ? Unanswered() : this).In(ReminderState.Booked) with
        {
            BookedFor = e.For,
            BookedBefore = BookedFor,
            BookingId = e.BookingId,
            BookingSequence = e.Sequence,
            Fitter = e.Fitter,
            PutOffUntil = null,
            PutOffBecause = null,
        };

    private Reminder Then(BookingCancelled e) =>
        In(ReminderState.Open) with
        {
            BookedFor = null,
            BookedBefore = BookedFor ?? BookedBefore,
            BookingSequence = e.Sequence,
        };

    private Reminder Then(BookingPassed e) =>
        In(ReminderState.Open) with
        {
            BookedFor = null,
            BookedBefore = null,
            BookingId = null,
            BookingSequence = 0,
        };

    private Reminder Then(ReminderResolved e) =>
        this with
        {
            State = ReminderState.Done,
            ResolvedByVisit = e.VisitId,
            ResolvedByWork = e.WorkId,
            ClosedAt = e.VisitId is null && e.WorkId is null ? e.TakenAt : null,
        };

    private Reminder Then(ReminderClosed e) =>
        this with
        {
            State = ReminderState.Closed,
            BookedFor = null,
            ClosedBecause = e.Reason,
            ClosedAt = e.TakenAt,
        };

    private Reminder Then(VetCleared e) =>
        Over ? this with { ClearedAt = e.TakenAt } : this with { State = ReminderState.Done, ClearedAt = e.TakenAt, ClosedAt = e.TakenAt };

    private Reminder Then(ReminderWithdrawn e) => this with { State = ReminderState.Withdrawn, ClosedBecause = e.Reason };

    private Reminder Unanswered() => this with { Answer = null, AnswerNote = null, AnsweredAt = null };

    /// <summary>What happens to a muted reminder shows when it is heard again.</summary>
    private Reminder In(ReminderState state) => State == ReminderState.Muted ? this with { Before = state } : this with { State = state };

    private Reminder Went(Guid letterId, LetterState state, DateTimeOffset? sentAt, string note) =>
        this with
        {
            Letters = Letters.SetItem(letterId, state),
            Post = [.. Post.Select(l => l.LetterId == letterId ? l with { State = state, SentAt = sentAt ?? l.SentAt, Note = note } : l)],
        };
}
