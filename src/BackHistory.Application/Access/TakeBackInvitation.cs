using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

/// <summary>An invitation that was not accepted yet is void. One that is not there, or no longer open, needs nothing.</summary>
public sealed class TakeBackInvitation(Invitations invitations, AuditBook audit) : IAct
{
    public static Right Needs => Right.Administer;

    public sealed record Input(Guid InvitationId);

    public async Task Do(Input input, Caller by, CancellationToken ct)
    {
        var now = by.Context.Now;
        if (
            await invitations.Load(input.InvitationId, ct) is not { } invitation
            || invitation.Practice != by.Context.Tenant
            || !invitation.Open(now)
        )
            return;
        await invitations.Change(invitation.Id, i => i with { RevokedAt = now }, ct);
        await audit.Note(by, AuditWords.InvitationTakenBack, invitation.PersonId, null, ct);
    }
}
