using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

/// <summary>Signs somebody of the practice out everywhere, for example because a telephone was lost.</summary>
public sealed class EndMemberSessions(AccountDocuments accounts, SignInSessions sessions, AuditBook audit) : IAct
{
    public static Right Needs => Right.Administer;

    /// <param name="But">The session that asks for it; an administrator who ends their own stays signed in here.</param>
    public sealed record Input(Guid PersonId, string? But);

    public async Task Do(Input input, Caller by, CancellationToken ct)
    {
        if (await accounts.Member(by.Context.Tenant, input.PersonId, ct) is not { } account)
            return;
        await sessions.EndOthers(account.Id, input.But, ct);
        await audit.Note(by, AuditWords.SignedOut, input.PersonId, null, ct);
    }
}
