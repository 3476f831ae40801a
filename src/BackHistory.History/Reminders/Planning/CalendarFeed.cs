using Marten;

namespace BackHistory.History.Reminders;

/// <summary>An address at which a calendar program reads booked visits. Whoever has it sees them, until it is revoked.</summary>
/// <param name="Fitter">Only the visits of this person; null for all of the practice.</param>
public sealed record CalendarFeed(Guid Id, string Name, Guid? Fitter, Guid MadeBy, DateTimeOffset MadeAt, DateTimeOffset? RevokedAt = null, DateTimeOffset? LastUsed = null);

public sealed class CalendarFeeds(IDocumentStore store)
{
    public async Task<IReadOnlyList<CalendarFeed>> All(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<CalendarFeed>().OrderBy(f => f.MadeAt).ToListAsync(ct);
    }

    public async Task<CalendarFeed?> Load(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<CalendarFeed>(id, ct);
    }

    public async Task Save(string practice, CalendarFeed feed, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.Store(feed);
        await session.SaveChangesAsync(ct);
    }
}
