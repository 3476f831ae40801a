using Marten;

namespace BackHistory.Store.Accounts;

/// <summary>Somebody is asked to work in a practice. Nothing is theirs before they accept, with the link that only their mailbox
/// holds.</summary>
/// <param name="PersonId">Who they will be there.</param>
/// <param name="By">The person who asked; empty where the installation itself did, for its first administrator.</param>
public sealed record Invitation(
    Guid Id,
    string Practice,
    Guid PersonId,
    string Email,
    string Language,
    PracticeRole Role,
    Guid By,
    DateTimeOffset MadeAt,
    DateTimeOffset EndsAt
)
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(7);

    /// <summary>Not to work in the practice, but to see one of its horses: this grant.</summary>
    public Guid? GrantId { get; init; }

    public Guid? HorseId { get; init; }

    public DateTimeOffset? AcceptedAt { get; init; }

    public DateTimeOffset? RevokedAt { get; init; }

    public bool Open(DateTimeOffset now) => AcceptedAt is null && RevokedAt is null && now < EndsAt;
}

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
        foreach (
            var earlier in await session
                .Query<Invitation>()
                .Where(i => i.Practice == invitation.Practice && i.PersonId == invitation.PersonId)
                .ToListAsync(ct)
        )
        {
            if (earlier.GrantId == invitation.GrantId && earlier.Open(time.GetUtcNow()))
                session.Store(earlier with { RevokedAt = time.GetUtcNow() });
        }

        session.Store(invitation);
        await session.SaveChangesAsync(ct);
    }

    /// <summary>Changes an invitation as it stands now; one that was erased is not brought back.</summary>
    public Task<Invitation?> Change(Guid id, Func<Invitation, Invitation> change, CancellationToken ct) =>
        store.Change(null, id, change, ct);

    /// <summary>Those of one practice that wait for an answer, newest first.</summary>
    public async Task<IReadOnlyList<Invitation>> Open(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession();
        var all = await session.Query<Invitation>().Where(i => i.Practice == practice).ToListAsync(ct);
        return [.. all.Where(i => i.GrantId is null && i.Open(time.GetUtcNow())).OrderByDescending(i => i.MadeAt)];
    }
}
