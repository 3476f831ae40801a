using BackHistory.History.Store;

namespace BackHistory.History.Accounts;

/// <summary>Keys for programs, outside the wall: the key says which practice it opens.</summary>
public sealed class AccessKeys(IWholeHistory store)
{
    public async Task Save(AccessKey key, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Store(key);
        await session.SaveChangesAsync(ct);
    }

    /// <param name="hash">See <see cref="AccessKey.HashOf"/>.</param>
    public async Task<AccessKey?> Load(string hash, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<AccessKey>(hash, ct);
    }
}
