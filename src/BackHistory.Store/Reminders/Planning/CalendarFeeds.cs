using Marten;

namespace BackHistory.Store.Reminders.Planning;

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

    /// <summary>Ends those that a person made, and those of a person's visits: whoever was taken out knows the addresses.</summary>
    public async Task RevokeOf(string practice, Guid personId, DateTimeOffset now, CancellationToken ct)
    {
        foreach (var feed in (await All(practice, ct)).Where(f => f.MadeBy == personId || f.Fitter == personId))
            await Change(practice, feed.Id, f => f.RevokedAt is null ? f with { RevokedAt = now } : f, ct);
    }

    /// <summary>Adds one, unless it is there already.</summary>
    public Task Add(string practice, CalendarFeed feed, CancellationToken ct) => store.Add(practice, feed.Id, feed, ct);

    /// <summary>Changes one as it stands now: one that was revoked meanwhile stays revoked.</summary>
    /// <returns>The address afterwards; null when there is none.</returns>
    public Task<CalendarFeed?> Change(string practice, Guid id, Func<CalendarFeed, CalendarFeed> change, CancellationToken ct) =>
        store.Change(practice, id, change, ct);
}
