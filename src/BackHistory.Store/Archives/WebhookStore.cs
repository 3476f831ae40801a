using Marten;

namespace BackHistory.Store.Archives;

/// <summary>Where webhooks lie.</summary>
public sealed class WebhookStore(IDocumentStore store)
{
    public async Task<IReadOnlyList<Webhook>> All(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Webhook>().OrderBy(w => w.At).ThenBy(w => w.Id).ToListAsync(ct);
    }

    public async Task<Webhook?> Load(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Webhook>(id, ct);
    }

    /// <summary>Adds one, unless it is there already.</summary>
    public Task Add(string practice, Webhook webhook, CancellationToken ct) => store.Add(practice, webhook.Id, webhook, ct);

    /// <summary>Changes one as it stands now; one that was removed meanwhile stays removed.</summary>
    /// <returns>The webhook afterwards; null when there is none.</returns>
    public Task<Webhook?> Change(string practice, Guid id, Func<Webhook, Webhook> change, CancellationToken ct) =>
        store.Change(practice, id, change, ct);

    public async Task Remove(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.Delete<Webhook>(id);
        await session.SaveChangesAsync(ct);
    }
}
