using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Projections;

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
        (snapshot, e.Data) switch
        {
            (_, LetterOwed d) => new Letter
            {
                Id = d.LetterId,
                ReminderId = e.StreamId,
                HorseId = d.HorseId,
                Kind = d.Kind,
                To = d.To,
                OwedAt = d.TakenAt,
            },
            ({ } letter, LetterSent d) => letter with
            {
                State = LetterState.Sent,
                SentAt = d.TakenAt,
                MessageId = d.MessageId,
                Through = d.Through,
            },
            ({ } letter, LetterBounced d) => letter with { State = LetterState.Bounced, Through = d.Reason },
            ({ } letter, LetterGivenUp d) => letter with { State = LetterState.GivenUp, Through = d.Reason },
            ({ } letter, LetterDeferred d) => letter with { State = LetterState.Deferred, Through = d.Reason },
            ({ } letter, LetterDelayed d) => letter with { Through = d.Report },
            ({ } letter, LetterDelivered d) => letter with { State = LetterState.Delivered, Through = d.Report },
            (_, DigestOwed d) => new Letter
            {
                Id = d.DigestId,
                Kind = d.Kind,
                To = d.To,
                On = d.On,
                OwedAt = d.TakenAt,
            },
            ({ } letter, DigestSent d) => letter with
            {
                State = LetterState.Sent,
                SentAt = d.TakenAt,
                MessageId = d.MessageId,
                Through = d.Through,
            },
            ({ } letter, DigestGivenUp d) => letter with { State = LetterState.GivenUp, Through = d.Reason },
            ({ } letter, DigestNoted d) => letter with { State = Letter.After(letter.State, d.Word), Through = d.Text },
            // Of a letter that was never owed nothing is known.
            (
                null,
                LetterSent
                    or LetterBounced
                    or LetterGivenUp
                    or LetterDeferred
                    or LetterDelayed
                    or LetterDelivered
                    or DigestSent
                    or DigestGivenUp
                    or DigestNoted
            ) => null,
            _ => throw UnknownEventException.In(nameof(Letter), e.Data),
        };
}
