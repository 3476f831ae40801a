using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

/// <summary>Somebody of the practice may do more or less from now on.</summary>
public sealed class ChangeRole(AccountDocuments accounts, Invitations invitations, AuditBook audit) : IAct
{
    public static Right Needs => Right.Administer;

    public sealed record Input(Guid PersonId, PracticeRole Role);

    /// <returns>Why it was left as it is; null when it was changed.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var (practice, role) = (by.Context.Tenant, input.Role);
        if (!Enum.IsDefined(role) || await accounts.Member(practice, input.PersonId, ct) is not { } account)
            return Members.Gone;
        if (role != PracticeRole.Administrator && await accounts.IsLastAdministrator(practice, account, ct))
            return Members.Last;
        await accounts.Change(
            account.Id,
            a => a.Memberships = a.Memberships.ConvertAll(m => m.Practice == practice ? m with { Role = role } : m),
            ct
        );
        if (role < PracticeRole.Administrator)
            await invitations.RevokeBy(practice, input.PersonId, ct);
        await audit.Note(by, AuditWords.RoleChanged, input.PersonId, ReportLanguage.English.Name(role), ct);
        return null;
    }
}
