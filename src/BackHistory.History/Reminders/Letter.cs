using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.History.Reminders;

/// <summary>A letter that is owed to somebody, and how far it got. Kept up in the same transaction as its reminder, so that none is forgotten.</summary>
public sealed partial record Letter
{
    public Guid Id { get; init; }

    public Guid ReminderId { get; init; }

    public Guid HorseId { get; init; }

    public LetterKind Kind { get; init; }

    public Guid To { get; init; }

    public LetterState State { get; init; }

    public DateTimeOffset OwedAt { get; init; }

    public DateTimeOffset? SentAt { get; init; }

    public string? MessageId { get; init; }

    /// <summary>How it went out: the mail server's name, or the folder; or why it could not.</summary>
    public string? Through { get; init; }
}

/// <summary>The letters of all reminders.</summary>
public sealed partial class LetterProjection : MultiStreamProjection<Letter, Guid>
{
    public LetterProjection()
    {
        Name = nameof(Letter);
        Identity<LetterOwed>(e => e.LetterId);
        Identity<LetterSent>(e => e.LetterId);
        Identity<LetterBounced>(e => e.LetterId);
        Identity<LetterGivenUp>(e => e.LetterId);
    }

    public override Letter? Evolve(Letter? snapshot, Guid id, IEvent e) => e.Data switch
    {
        LetterOwed d => new Letter { Id = d.LetterId, ReminderId = e.StreamId, HorseId = d.HorseId, Kind = d.Kind, To = d.To, OwedAt = d.TakenAt },
        LetterSent d when snapshot is not null => snapshot with { State = LetterState.Sent, SentAt = d.TakenAt, MessageId = d.MessageId, Through = d.Through },
        LetterBounced d when snapshot is not null => snapshot with { State = LetterState.Bounced, Through = d.Status },
        LetterGivenUp d when snapshot is not null => snapshot with { State = LetterState.GivenUp, Through = d.Reason },
        _ => snapshot,
    };
}
