using BackHistory.History.Saddles;
using Marten;

namespace BackHistory.Store.Saddles;

/// <summary>What is asked about saddles.</summary>
public sealed class SaddleQueries(IDocumentStore store)
{
    public async Task<Saddle?> Load(string practice, Guid saddleId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Saddle>(saddleId, ct);
    }

    public async Task<IReadOnlyList<Saddle>> Load(string practice, IEnumerable<Guid> saddleIds, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadManyAsync<Saddle>(ct, saddleIds.Distinct().ToArray());
    }

    /// <summary>By label, from a place on.</summary>
    public async Task<IReadOnlyList<Saddle>> ByLabel(string practice, (string Label, Guid Id)? after, int size, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var query = session.Query<Saddle>().AsQueryable();
        if (after is { } c)
            query = query.Where(s => s.Label.CompareTo(c.Label) > 0 || (s.Label == c.Label && s.Id.CompareTo(c.Id) > 0));
        return await query.OrderBy(s => s.Label).ThenBy(s => s.Id).Take(size).ToListAsync(ct);
    }
}
