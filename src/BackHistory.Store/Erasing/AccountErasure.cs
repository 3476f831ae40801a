using BackHistory.Store.Accounts;
using Marten;

namespace BackHistory.Store.Erasing;

/// <param name="Found">Whether anybody could sign in as this person here, or held sight of a horse.</param>
/// <param name="Gone">Ids of invitations and accounts that are there no more: letters about those were to this person.</param>
internal sealed record ErasedSignIn(bool Found, IReadOnlyList<Guid> Gone);

/// <summary>
/// Takes from accounts what they are as this person in this practice, by ids. An account is its owner's: what it is in another practice,
/// or as somebody else here, stays, and it goes only where nothing of it is left.
/// </summary>
internal sealed class AccountErasure(IWholeHistory whole)
{
    /// <param name="grants">What this person was let see here, held or not.</param>
    public async Task<ErasedSignIn> Erase(string practice, Guid person, IReadOnlySet<Guid> grants, CancellationToken ct)
    {
        await using var session = whole.LightweightSession();
        await session.BeginTransactionAsync(ct);
        var gone = (
            await session.Query<Invitation>().Where(i => i.Practice == practice && i.PersonId == person).Select(i => i.Id).ToListAsync(ct)
        ).ToList();
        foreach (var invitation in gone)
            session.Delete<Invitation>(invitation);
        var here = await session
            .Query<Account>()
            .Where(a => a.Memberships.Any(m => m.Practice == practice) || a.Shared.Any(s => s.Practice == practice))
            .ToListAsync(ct);
        var found = false;
        foreach (var id in here.Where(Concerned).Select(a => a.Id).Order())
        {
            // Under its lock: whoever joins another practice at this moment does so before or after, and keeps it.
            if (await session.QueryAsync<Account>("where d.id = ? for update", ct, id) is not [var account] || !Concerned(account))
                continue;
            found = true;
            var worked = account.Memberships.Exists(m => m.Practice == practice && m.PersonId == person);
            account.Memberships = account.Memberships.RemoveAll(m => m.Practice == practice && m.PersonId == person);
            account.Shared = account.Shared.RemoveAll(s => s.Practice == practice && grants.Contains(s.GrantId));
            if (account.Memberships.IsEmpty && account.Shared.IsEmpty)
            {
                gone.Add(id);
                session.DeleteWhere<AccessKey>(k => k.AccountId == id);
                session.DeleteWhere<SignInSession>(s => s.AccountId == id);
                session.Delete(account);
                continue;
            }

            if (worked)
                session.DeleteWhere<AccessKey>(k => k.AccountId == id && k.Practice == practice);
            if (account.Working == practice && worked)
                account.Working = null;
            session.Store(account);
        }

        await session.SaveChangesAsync(ct);
        return new ErasedSignIn(found, gone);

        bool Concerned(Account account) =>
            account.Memberships.Exists(m => m.Practice == practice && m.PersonId == person)
            || account.Shared.Exists(s => s.Practice == practice && grants.Contains(s.GrantId));
    }
}
