using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

/// <summary>A program's key opens nothing any more.</summary>
public sealed class EndAccessKey(AccessKeys keys, AuditBook audit) : IAct
{
    private static readonly Refused NoSuchKey = new("no-such-key", "You have no such key here.", RefusalKind.NotFound);

    public static Right Needs => Right.See;

    /// <param name="AccountId">The owner's: nobody ends another's.</param>
    public sealed record Input(Guid AccountId, string KeyId);

    /// <returns>Why nothing was ended; null when it was.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        if (await keys.Remove(input.AccountId, by.Context.Tenant, input.KeyId, ct) is null)
            return NoSuchKey;
        await audit.Note(by, AuditWords.KeyEnded, ct: ct);
        return null;
    }
}
