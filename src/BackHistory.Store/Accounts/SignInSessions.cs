using Marten;

namespace BackHistory.Store.Accounts;

/// <summary>Where people are signed in; to be listed and ended.</summary>
public sealed class SignInSessions(IWholeHistory store, TimeProvider time)
{
    /// <summary>One more; where there are too many the oldest make room.</summary>
    public async Task Add(SignInSession added, CancellationToken ct)
    {
        foreach (var old in (await SessionsOf(added.AccountId, ct)).Skip(SignInSession.Most - 1))
            await End(added.AccountId, old.Id, ct);
        await using var session = store.LightweightSession();
        session.Insert(added);
        // Those that can never live again are forgotten.
        var (account, gone) = (added.AccountId, time.GetUtcNow() - SignInSession.Longest);
        session.DeleteWhere<SignInSession>(s => s.AccountId == account && s.MadeAt < gone);
        await session.SaveChangesAsync(ct);
    }

    /// <summary>Changes a session as it stands now; one that was ended meanwhile stays ended.</summary>
    public Task<SignInSession?> Change(string id, Func<SignInSession, SignInSession> change, CancellationToken ct) =>
        store.Change(null, id, change, ct);

    /// <returns>Null when it was never there, has ended or has grown too old.</returns>
    public async Task<SignInSession?> Living(string id, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<SignInSession>(id, ct) is { } found && found.Lives(time.GetUtcNow()) ? found : null;
    }

    /// <summary>Where this account is signed in, last seen first.</summary>
    public async Task<IReadOnlyList<SignInSession>> SessionsOf(Guid accountId, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return [.. (await Living(session, accountId, ct)).OrderByDescending(s => s.SeenAt)];
    }

    /// <summary>Ends one of this account's; another's is left alone.</summary>
    public Task End(Guid accountId, string id, CancellationToken ct) =>
        Change(id, s => s.AccountId == accountId && s.EndedAt is null ? s with { EndedAt = time.GetUtcNow() } : s, ct);

    /// <summary>Ends all of this account's but one.</summary>
    /// <returns>How many.</returns>
    public async Task<int> EndOthers(Guid accountId, string? but, CancellationToken ct)
    {
        var others = (await SessionsOf(accountId, ct)).Where(s => s.Id != but).ToList();
        foreach (var living in others)
            await End(accountId, living.Id, ct);
        return others.Count;
    }

    private async Task<IReadOnlyList<SignInSession>> Living(IQuerySession session, Guid accountId, CancellationToken ct)
    {
        var now = time.GetUtcNow();
        return [.. (await session.Query<SignInSession>().Where(s => s.AccountId == accountId).ToListAsync(ct)).Where(s => s.Lives(now))];
    }
}
