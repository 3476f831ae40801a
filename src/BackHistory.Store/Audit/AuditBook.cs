using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Events;
using BackHistory.Store.Projections;
using JasperFx.Events;
using Marten;

namespace BackHistory.Store.Audit;

/// <summary>Who saw and changed what. Notes are added and never changed.</summary>
public sealed class AuditBook(IDocumentStore store)
{
    public async Task Note(string practice, AuditNote note, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.Store(note);
        await session.SaveChangesAsync(ct);
    }

    /// <summary>Who saw what, newest first, from a place on; of one horse or of all.</summary>
    public async Task<IReadOnlyList<AuditNote>> Notes(
        string practice,
        Guid? horseId,
        (DateTimeOffset At, Guid Id)? before,
        int size,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var query = session.Query<AuditNote>().AsQueryable();
        if (horseId is { } horse)
        {
            Guid?[] horses = [.. (await Registrations(session, horse, ct)).Select(h => (Guid?)h)];
            query = query.Where(n => n.HorseId.IsOneOf(horses));
        }

        if (before is { } b)
            query = query.Where(n => n.At < b.At || (n.At == b.At && n.Id.CompareTo(b.Id) < 0));
        return await query.OrderByDescending(n => n.At).ThenByDescending(n => n.Id).Take(size).ToListAsync(ct);
    }

    /// <summary>Who changed what, newest first, from a position of the store on; of one horse with its sharing and reminders, or of
    /// all.</summary>
    public async Task<IReadOnlyList<Change>> Changes(string practice, Guid? horseId, long? before, int size, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var query = session.Events.QueryWritten();
        if (horseId is { } horse)
        {
            var horses = await Registrations(session, horse, ct);
            var reminders = await session.Query<Reminder>().Where(r => r.HorseId.IsOneOf(horses)).Select(r => r.Id).ToListAsync(ct);
            Guid[] streams = [.. reminders, .. horses, .. horses.Select(HorseSharing.IdOf)];
            query = (Marten.Linq.IMartenQueryable<IEvent>)query.Where(e => streams.Contains(e.StreamId));
        }

        if (before is { } b)
            query = (Marten.Linq.IMartenQueryable<IEvent>)query.Where(e => e.Sequence < b);
        var events = await query.OrderByDescending(e => e.Sequence).Take(size).ToListAsync(ct);
        return [.. events.Select(ChangeFrom)];
    }

    /// <summary>The horse, and those that turned out to be second registrations of it.</summary>
    private static async Task<Guid[]> Registrations(IQuerySession session, Guid horse, CancellationToken ct) =>
        [horse, .. (await session.LoadAsync<Horse>(horse, ct))?.Merged ?? []];

    private static Change ChangeFrom(IEvent e)
    {
        var by = Guid.TryParse(e.UserName, out var actor) ? actor : (e.Data as IHappened)?.By ?? Guid.Empty;
        var alias = EventAliases.All.GetValueOrDefault(e.EventType, e.EventTypeName);
        var fact = e.Data is IHorseEvent or IReminderEvent or ISaddleEvent ? TimelineProjection.EntryFor(e.Id, e)?.Fact : null;
        return new Change(e.Sequence, e.Timestamp, by, e.EventTypeName, HorseOf(e), alias, fact);
    }

    /// <summary>The horse whose own history, reminders or sharing a change belongs to; null where it is another's.</summary>
    internal static Guid? HorseOf(IEvent e) =>
        e.Data switch
        {
            IHorseEvent => e.StreamId,
            IReminderEvent r => r.HorseId,
            ISharingEvent s => s.HorseId,
            ISaddleEvent or IPracticeEvent or IDigestEvent => null,
            _ => throw UnknownEventException.In(nameof(AuditBook), e.Data),
        };
}
