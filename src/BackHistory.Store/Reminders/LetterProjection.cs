using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Reminders;

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
        Identity<LetterDeferred>(e => e.LetterId);
        Identity<LetterDelayed>(e => e.LetterId);
        Identity<LetterDelivered>(e => e.LetterId);
        Identity<IDigestEvent>(e => e.DigestId);
    }

    public override Letter? Evolve(Letter? snapshot, Guid id, IEvent e) =>
        e.Data switch
        {
            LetterOwed d => new Letter
            {
                Id = d.LetterId,
                ReminderId = e.StreamId,
                HorseId = d.HorseId,
                Kind = d.Kind,
                To = d.To,
                OwedAt = d.TakenAt,
            },
            LetterSent d when snapshot is not null => snapshot with
            {
                State = LetterState.Sent,
                SentAt = d.TakenAt,
                MessageId = d.MessageId,
                Through = d.Through,
            },
            LetterBounced d when snapshot is not null => snapshot with { State = LetterState.Bounced, Through = d.Reason },
            LetterGivenUp d when snapshot is not null => snapshot with { State = LetterState.GivenUp, Through = d.Reason },
            LetterDeferred d when snapshot is not null => snapshot with { State = LetterState.Deferred, Through = d.Reason },
            LetterDelayed d when snapshot is not null => snapshot with { Through = d.Report },
            LetterDelivered d when snapshot is not null => snapshot with { State = LetterState.Delivered, Through = d.Report },
            DigestOwed d => new Letter
            {
                Id = d.DigestId,
                Kind = d.Kind,
                To = d.To,
                On = d.On,
                OwedAt = d.TakenAt,
            },
            DigestSent d when snapshot is not null => snapshot with
            {
                State = LetterState.Sent,
                SentAt = d.TakenAt,
                MessageId = d.MessageId,
                Through = d.Through,
            },
            DigestGivenUp d when snapshot is not null => snapshot with { State = LetterState.GivenUp, Through = d.Reason },
            DigestNoted d when snapshot is not null => snapshot with { State = Letter.After(snapshot.State, d.Word), Through = d.Text },
            _ => snapshot,
        };
}
