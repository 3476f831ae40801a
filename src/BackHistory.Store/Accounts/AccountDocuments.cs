using JasperFx;
using Marten;

namespace BackHistory.Store.Accounts;

/// <summary>Accounts as documents. They belong to no practice, so they lie outside its isolation.</summary>
public sealed class AccountDocuments(IWholeHistory store)
{
    private const int Attempts = 5;

    /// <returns>False when there is an account with this e-mail address already.</returns>
    public async Task<bool> Add(Account account, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        if (await session.Query<Account>().AnyAsync(a => a.NormalizedEmail == account.NormalizedEmail, ct))
            return false;
        session.Insert(account);
        await session.SaveChangesAsync(ct);
        return true;
    }

    /// <returns>False when somebody else changed it since it was loaded, or removed it; nothing was saved.</returns>
    public async Task<bool> Save(Account account, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        await session.BeginTransactionAsync(ct);
        // The store's own check of versions takes a row that is gone for one that is new.
        const string Held = "select 1 from history.mt_doc_account where id = ? for update";
        if (await session.AdvancedSql.QueryAsync<int>(Held, ct, account.Id) is [])
            return false;
        session.Store(account);
        try
        {
            await session.SaveChangesAsync(ct);
            return true;
        }
        catch (ConcurrencyException)
        {
            return false;
        }
    }

    /// <summary>Changes an account as it stands now, again where somebody else came first.</summary>
    /// <returns>The changed account, or null when there is none.</returns>
    public async Task<Account?> Change(Guid id, Action<Account> change, CancellationToken ct)
    {
        for (var attempt = 1; ; attempt++)
        {
            if (await Load(id, ct) is not { } account)
                return null;
            change(account);
            if (await Save(account, ct))
                return account;
            if (attempt == Attempts)
                throw new InvalidOperationException("an account is being changed by many at once");
        }
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

    /// <param name="passkeyId">The credential's id, base64url.</param>
    public async Task<Account?> ByPasskey(string passkeyId, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<Account>().FirstOrDefaultAsync(a => a.Passkeys.Any(p => p.Id == passkeyId), ct);
    }

    public async Task<Account?> ByLogin(string provider, string key, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<Account>().FirstOrDefaultAsync(a => a.Logins.Any(l => l.Provider == provider && l.Key == key), ct);
    }

    /// <summary>What a person may do in a practice; null where they do not work there.</summary>
    public async Task<PracticeRole?> RoleOf(string practice, Guid personId, CancellationToken ct) =>
        (await In(practice, ct)).SelectMany(a => a.Memberships).FirstOrDefault(m => m.Practice == practice && m.PersonId == personId)?.Role;

    /// <summary>The accounts that work in a practice.</summary>
    public async Task<IReadOnlyList<Account>> In(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.Query<Account>().Where(a => a.Memberships.Any(m => m.Practice == practice)).ToListAsync(ct);
    }
}
