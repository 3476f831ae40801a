using Marten;

namespace BackHistory.Store.Accounts;

/// <summary>Keys for programs, outside tenant isolation: the key says which practice it opens.</summary>
public sealed class AccessKeys(IWholeHistory store)
{
    public async Task Save(AccessKey key, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Insert(key);
        await session.SaveChangesAsync(ct);
    }

    /// <summary>Notes that a key was used; one that was ended meanwhile stays ended.</summary>
    public Task<AccessKey?> Used(AccessKey key, DateTimeOffset at, CancellationToken ct) =>
        store.Change<AccessKey>(null, key.Id, k => k with { LastUsed = at }, ct);

    /// <summary>Those of one account in one practice, newest first, ended ones too.</summary>
    public async Task<IReadOnlyList<AccessKey>> KeysOf(Guid accountId, string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session
            .Query<AccessKey>()
            .Where(k => k.AccountId == accountId && k.Practice == practice)
            .OrderByDescending(k => k.MadeAt)
            .ToListAsync(ct);
    }

    /// <summary>Ends one of this account's in this practice; another's is left alone.</summary>
    /// <returns>The key that is gone; null when there was none.</returns>
    public async Task<AccessKey?> Remove(Guid accountId, string practice, string id, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        if (await session.LoadAsync<AccessKey>(id, ct) is not { } key || key.AccountId != accountId || key.Practice != practice)
            return null;
        session.Delete(key);
        await session.SaveChangesAsync(ct);
        return key;
    }

    /// <summary>Ends every one of this account's, in whichever practice.</summary>
    /// <returns>How many could still be used.</returns>
    public async Task<int> RemoveAll(Guid accountId, DateTimeOffset now, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        var keys = await session.Query<AccessKey>().Where(k => k.AccountId == accountId).ToListAsync(ct);
        foreach (var key in keys)
            session.Delete(key);
        await session.SaveChangesAsync(ct);
        return keys.Count(k => k.ExpiresAt > now);
    }

    /// <param name="hash">See <see cref="AccessKey.HashOf"/>.</param>
    public async Task<AccessKey?> Load(string hash, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<AccessKey>(hash, ct);
    }
}
