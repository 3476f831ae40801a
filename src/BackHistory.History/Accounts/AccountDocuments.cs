using BackHistory.History.Store;
using Marten;

namespace BackHistory.History.Accounts;

/// <summary>Accounts and keys as documents. They belong to no practice, so they lie outside its wall.</summary>
public sealed class AccountDocuments(IWholeHistory store)
{
    /// <returns>False when there is an account with this e-mail address already.</returns>
    public async Task<bool> Add(Account account, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        if (await session.Query<Account>().AnyAsync(a => a.NormalizedEmail == account.NormalizedEmail, ct)) return false;
        session.Insert(account);
        await session.SaveChangesAsync(ct);
        return true;
    }

    public async Task Save(Account account, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Store(account);
        await session.SaveChangesAsync(ct);
    }

    public async Task Remove(Account account, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Delete(account);
        await session.SaveChangesAsync(ct);
    }

    public async Task<Account?> Load(Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<Account>(id, ct);
    }

    public async Task<Account?> ByEmail(string normalizedEmail, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<Account>().FirstOrDefaultAsync(a => a.NormalizedEmail == normalizedEmail, ct);
    }

    public async Task Save(AccessKey key, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        session.Store(key);
        await session.SaveChangesAsync(ct);
    }

    /// <param name="hash">See <see cref="AccessKey.HashOf"/>.</param>
    public async Task<AccessKey?> Key(string hash, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<AccessKey>(hash, ct);
    }
}
