using Marten;

namespace BackHistory.History.Practices;

/// <summary>That a practice exists, for those who serve all of them: the schedule of jobs.</summary>
/// <param name="Id">The tenant.</param>
public sealed record KnownPractice(string Id, string Name, string TimeZone);

/// <summary>The practices of this service.</summary>
public sealed class KnownPractices(IDocumentStore store)
{
    public async Task<IReadOnlyList<KnownPractice>> All(CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<KnownPractice>().OrderBy(p => p.Id).ToListAsync(ct);
    }

    public async Task Add(KnownPractice practice, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Store(practice);
        await session.SaveChangesAsync(ct);
    }
}
