using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Timeline;
using BackHistory.Store.Events;
using Marten;

namespace BackHistory.Store.Horses;

/// <summary>What is asked about horses. The practice comes first in every question: there is no way to ask across practices.</summary>
public sealed class HorseQueries(IDocumentStore store)
{
    /// <summary>The horse as decisions see it.</summary>
    public async Task<Horse?> Load(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Horse>(horseId, ct);
    }

    /// <summary>The registration in which the history of one that was merged away goes on now; null where it goes on in itself.</summary>
    public async Task<Horse?> GoesOnIn(string practice, Guid? mergedInto, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var (seen, last) = (new HashSet<Guid>(), default(Horse));
        while (mergedInto is { } next && seen.Add(next) && await session.LoadAsync<Horse>(next, ct) is { } horse)
            (last, mergedInto) = (horse, horse.MergedInto);
        return last;
    }

    /// <summary>The second registrations that were merged into a horse.</summary>
    public async Task<IReadOnlyList<Horse>> TakenIn(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Horse>(horseId, ct) is { Merged.IsEmpty: false } horse
            ? await session.LoadManyAsync<Horse>(ct, [.. horse.Merged])
            : [];
    }

    /// <summary>Whether the practice looks after any horse.</summary>
    public async Task<bool> Any(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Horse>().AnyAsync(h => !h.Withdrawn && h.MergedInto == null, ct);
    }

    /// <summary>Whether any horse of the practice was ever measured.</summary>
    public async Task<bool> AnyVisited(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<HorseProfile>().AnyAsync(h => !h.Gone && h.LastVisitOn != null, ct);
    }

    /// <summary>By what it is told from others; null where nobody said yet.</summary>
    public async Task<HorseIdentity?> Identity(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<HorseIdentity>(horseId, ct);
    }

    /// <summary>Who has or had which part in its care, and when: days stand in the events alone, since nothing is decided by
    /// them.</summary>
    public async Task<IReadOnlyList<CarePartSpan>> CareParts(string practice, Guid horseId, CancellationToken ct)
    {
        var (taken, ended) = (EventAliases.All[typeof(CareRoleTaken)], EventAliases.All[typeof(CareRoleEnded)]);
        await using var session = store.QuerySession(practice);
        var events = await session
            .Events.QueryWritten()
            .Where(e => e.StreamId == horseId && (e.EventTypeName == taken || e.EventTypeName == ended))
            .OrderBy(e => e.Version)
            .ToListAsync(ct);
        return CarePartSpan.In(events.Select(e => e.Data));
    }

    public async Task<HorseProfile?> Profile(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<HorseProfile>(horseId, ct);
    }

    public async Task<IReadOnlyList<HorseProfile>> Profiles(string practice, IEnumerable<Guid> horseIds, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadManyAsync<HorseProfile>(ct, horseIds.Distinct().ToArray());
    }

    /// <summary>By name, from a place on.</summary>
    public async Task<IReadOnlyList<HorseProfile>> ByName(string practice, (string Name, Guid Id)? after, int size, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        const string Living = "where d.tenant_id = ? and not d.gone";
        const string InOrder = $"order by d.name {NameOrder.By}, d.id limit ?";
        return after is { } c
            ? await session.QueryAsync<HorseProfile>(
                $"{Living} and (d.name {NameOrder.By}, d.id) > (?, ?) {InOrder}",
                ct,
                practice,
                c.Name,
                c.Id,
                size
            )
            : await session.QueryAsync<HorseProfile>($"{Living} {InOrder}", ct, practice, size);
    }

    /// <summary>Horses whose name may be the same one, written by another hand.</summary>
    public async Task<IReadOnlyList<HorseProfile>> Alike(string practice, string name, CancellationToken ct)
    {
        var key = SimilarNames.Key(name);
        if (key.Length == 0)
            return [];
        await using var session = store.QuerySession(practice);
        // Names alone: what an accent stands for is not the database's to say, it depends on how it was set up.
        var names = await session.Query<HorseProfile>().Where(h => !h.Gone).Select(h => new NamedHorse(h.Id, h.Name)).ToListAsync(ct);
        var alike = names.Where(n => SimilarNames.Key(n.Name) == key).Select(n => n.Id).Take(MostAlike).ToArray();
        return alike.Length == 0 ? [] : await session.LoadManyAsync<HorseProfile>(ct, alike);
    }

    private const int MostAlike = 10;

    private sealed record NamedHorse(Guid Id, string Name);

    /// <summary>The horses of an owner, by name.</summary>
    public async Task<IReadOnlyList<HorseProfile>> OfOwner(string practice, Guid personId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return InOrder(await session.Query<HorseProfile>().Where(h => !h.Gone && h.OwnerId == personId).ToListAsync(ct));
    }

    /// <summary>The horses that stand in a yard, by name.</summary>
    public async Task<IReadOnlyList<HorseProfile>> InYard(string practice, Guid yardId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return InOrder(await session.Query<HorseProfile>().Where(h => !h.Gone && h.YardId == yardId).ToListAsync(ct));
    }

    /// <summary>The horses in whose care a person has a part, by name.</summary>
    public async Task<IReadOnlyList<HorseProfile>> CaredForBy(string practice, Guid personId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return InOrder(
            await session.Query<HorseProfile>().Where(h => !h.Gone && h.CaredForBy.Any(c => c.PersonId == personId)).ToListAsync(ct)
        );
    }

    private static IReadOnlyList<HorseProfile> InOrder(IReadOnlyList<HorseProfile> horses) =>
        [.. horses.OrderBy(h => h.Name, NameOrder.InMemory).ThenBy(h => h.Id)];

    /// <summary>Everything that happened to a horse by true time, newest first, from a place on; null when there is no such
    /// horse.</summary>
    public async Task<IReadOnlyList<TimelineEntry>?> Timeline(
        string practice,
        Guid horseId,
        (DateTimeOffset At, long Sequence)? before,
        int size,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        if (!await session.Query<Horse>().AnyAsync(h => h.Id == horseId, ct))
            return null;
        var query = session.Query<TimelineEntry>().Where(t => t.HorseId == horseId);
        if (before is { } b)
            query = query.Where(t => t.TakenAt < b.At || (t.TakenAt == b.At && t.Sequence < b.Sequence));
        return await query.OrderByDescending(t => t.TakenAt).ThenByDescending(t => t.Sequence).Take(size).ToListAsync(ct);
    }

    /// <summary>All visits of a horse, withdrawn ones too, oldest first; null when there is no such horse.</summary>
    public async Task<IReadOnlyList<VisitRecord>?> Visits(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (!await session.Query<Horse>().AnyAsync(h => h.Id == horseId, ct))
            return null;
        return await session
            .Query<VisitRecord>()
            .Where(v => v.HorseId == horseId)
            .OrderBy(v => v.TakenAt)
            .ThenBy(v => v.Id)
            .ToListAsync(ct);
    }

    /// <summary>The visits that were recorded last in the whole practice, newest first.</summary>
    public async Task<IReadOnlyList<VisitRecord>> RecentVisits(string practice, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<VisitRecord>().Where(v => !v.Withdrawn).OrderByDescending(v => v.RecordedAt).Take(most).ToListAsync(ct);
    }

    /// <summary>Null also when the visit is another horse's.</summary>
    public async Task<VisitRecord?> Visit(string practice, Guid horseId, Guid visitId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var visit = await session.LoadAsync<VisitRecord>(visitId, ct);
        return visit?.HorseId == horseId ? visit : null;
    }

    /// <summary>The tracings that were entered at these versions of the horse, by version.</summary>
    public async Task<IReadOnlyDictionary<long, Shape.Tracing>> TracingsAt(
        string practice,
        Guid horseId,
        IReadOnlyCollection<long> versions,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var wanted = versions.ToArray();
        var events = await session.Events.QueryWritten().Where(e => e.StreamId == horseId && wanted.Contains(e.Version)).ToListAsync(ct);
        return events
            .Select(e =>
                (
                    e.Version,
                    Tracing: e.Data switch
                    {
                        CrossSectionTraced c => Tracings.TracingFrom(c),
                        ToplineTraced t => Tracings.TracingFrom(t),
                        _ => null,
                    }
                )
            )
            .Where(e => e.Tracing is not null)
            .ToDictionary(e => e.Version, e => e.Tracing!);
    }
}
