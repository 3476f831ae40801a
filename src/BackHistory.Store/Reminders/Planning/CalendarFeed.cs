using Marten;

namespace BackHistory.Store.Reminders.Planning;

/// <summary>An address at which a calendar program reads booked visits. Whoever has it sees them, until it is revoked.</summary>
/// <param name="Fitter">Only the visits of this person; null for all of the practice.</param>
public sealed record CalendarFeed(
    Guid Id,
    string Name,
    Guid? Fitter,
    Guid MadeBy,
    DateTimeOffset MadeAt,
    DateTimeOffset? RevokedAt = null,
    DateTimeOffset? LastUsed = null
);

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

    /// <summary>Adds one, unless it is there already.</summary>
    public Task Add(string practice, CalendarFeed feed, CancellationToken ct) => store.Add(practice, feed.Id, feed, ct);

    /// <summary>Changes one as it stands now: one that was revoked meanwhile stays revoked.</summary>
    /// <returns>The address afterwards; null when there is none.</returns>
    public Task<CalendarFeed?> Change(string practice, Guid id, Func<CalendarFeed, CalendarFeed> change, CancellationToken ct) =>
        store.Change(practice, id, change, ct);
}
