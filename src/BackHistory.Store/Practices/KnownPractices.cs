using Marten;

namespace BackHistory.Store.Practices;

/// <summary>The practices of this service.</summary>
public sealed class KnownPractices(IWholeHistory store)
{
    public async Task<IReadOnlyList<KnownPractice>> All(CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<KnownPractice>().OrderBy(p => p.Id).ToListAsync(ct);
    }

    /// <summary>A job's argument says for which practice it works: it must be one that there is.</summary>
    /// <exception cref="NoSuchPracticeException">There is no such practice; nothing was done.</exception>
    public async Task Demand(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        if (string.IsNullOrEmpty(practice) || await session.LoadAsync<KnownPractice>(practice, ct) is null)
            throw new NoSuchPracticeException();
    }

    public async Task Add(KnownPractice practice, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Store(practice);
        await session.SaveChangesAsync(ct);
    }
}
