using Marten;

namespace BackHistory.Store.Archives;

/// <summary>Other software that is told of changes, and how far it has been told.</summary>
/// <param name="Secret">With which what is sent is signed; shown once, when it is made.</param>
/// <param name="Types">Aliases; empty for all.</param>
public sealed record Webhook(Guid Id, string Url, string Secret, IReadOnlyList<string> Types, Guid By, DateTimeOffset At)
{
    /// <summary>Everything up to here was taken.</summary>
    public long Position { get; init; }

    /// <summary>Attempts that failed since the last one that did not.</summary>
    public int Failures { get; init; }

    public DateTimeOffset? NotBefore { get; init; }

    /// <summary>A status code or a kind of error, never what the other side wrote.</summary>
    public string? LastError { get; init; }

    public DateTimeOffset? LastTaken { get; init; }

    /// <summary>It failed too often: nothing more is sent until somebody starts it again.</summary>
    public bool Stopped { get; init; }
}

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
