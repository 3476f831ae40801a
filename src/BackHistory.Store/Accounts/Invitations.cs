using JasperFx;
using Marten;

namespace BackHistory.Store.Accounts;

/// <summary>Invitations, outside tenant isolation: whoever accepts one is in no practice yet.</summary>
public sealed class Invitations(IWholeHistory store, TimeProvider time)
{
    public async Task<Invitation?> Load(Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<Invitation>(id, ct);
    }

    /// <summary>A new one takes the place of an open one to the same person.</summary>
    public async Task Add(Invitation invitation, CancellationToken ct)
    {
        await using var session = store.LightweightSession();
        var now = time.GetUtcNow();
        foreach (
            var earlier in await session
                .Query<Invitation>()
                .Where(i => i.Practice == invitation.Practice && i.PersonId == invitation.PersonId && i.Id != invitation.Id)
                .ToListAsync(ct)
        )
        {
            if (earlier.GrantId == invitation.GrantId && earlier.Open(now))
                await Change(earlier.Id, i => i.Open(now) ? i with { RevokedAt = now } : i, ct);
        }

        // Sent once more it is the one that is there, whatever became of it.
        if (await session.LoadAsync<Invitation>(invitation.Id, ct) is not null)
            return;
        session.Insert(invitation);
        try
        {
            await session.SaveChangesAsync(ct);
        }
        catch (DocumentAlreadyExistsException)
        {
            // Somebody added it between the two.
        }
    }

    /// <summary>Changes an invitation as it stands now; one that was erased is not brought back.</summary>
    public Task<Invitation?> Change(Guid id, Func<Invitation, Invitation> change, CancellationToken ct) =>
        store.Change(null, id, change, ct);

    /// <summary>Takes back those that wait and that this person sent: they would let in whom the practice does not know of.</summary>
    public async Task RevokeBy(string practice, Guid personId, CancellationToken ct)
    {
        foreach (var open in (await Open(practice, ct)).Where(i => i.By == personId))
            await Change(open.Id, i => i.Open(time.GetUtcNow()) ? i with { RevokedAt = time.GetUtcNow() } : i, ct);
    }

    /// <summary>Those of one practice that wait for an answer, newest first.</summary>
    public async Task<IReadOnlyList<Invitation>> Open(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        var all = await session.Query<Invitation>().Where(i => i.Practice == practice).ToListAsync(ct);
        return [.. all.Where(i => i.GrantId is null && i.Open(time.GetUtcNow())).OrderByDescending(i => i.MadeAt)];
    }
}
