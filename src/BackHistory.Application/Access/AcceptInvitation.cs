using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Access;

/// <summary>Somebody takes up an invitation with an account of theirs: they work in the practice from now on, or see the horse that is
/// shared with them.</summary>
public sealed class AcceptInvitation(
    Invitations invitations,
    AccountDocuments accounts,
    PracticeQueries practices,
    AuditBook audit,
    TimeProvider time
) : IAct
{
    public static Right Needs => Right.Hold;

    /// <param name="AccountId">Whose mailbox held the invitation, as the door has made sure.</param>
    /// <param name="Name">What whoever comes as a practice's first administrator is called there; nobody else could say it.</param>
    public sealed record Input(Invitation Invitation, Guid AccountId, string? Name = null);

    /// <returns>Why nothing was accepted; null when it was.</returns>
    public async Task<Refused?> Do(Input input, CancellationToken ct)
    {
        var (invitation, now) = (input.Invitation, time.GetUtcNow());
        // Before anything is theirs: the invitation waits until they can be called something.
        if (NameProblem(invitation, input.Name) is { } nameless)
            return nameless;
        await accounts.Change(input.AccountId, a => Join(a, invitation), ct);
        if (IsFirst(invitation) && input.Name is { } name)
            await practices.Change(invitation.Practice, invitation.PersonId, p => p with { Name = name.Trim() }, ct);
        await invitations.Change(invitation.Id, i => i with { AcceptedAt = now }, ct);
        await audit.Note(
            invitation.Practice,
            new AuditNote(DeterministicId.From("joined", invitation.Id.ToString()), now, AuditWords.Joined, null, invitation.HorseId)
            {
                About = invitation.PersonId,
                GrantId = invitation.GrantId,
                Detail = invitation.GrantId is null ? invitation.Role.ToString().ToLowerInvariant() : null,
            },
            ct
        );
        return null;
    }

    /// <summary>Whether the practice has nobody yet who could have entered this person by name.</summary>
    public static bool IsFirst(Invitation invitation) => invitation.By == Guid.Empty;

    /// <summary>Why whoever accepts cannot be called so; null when they can, or are called something already.</summary>
    public static Refused? NameProblem(Invitation invitation, string? name) =>
        IsFirst(invitation) ? new PersonDetails(name ?? "", null, null, null, PersonRole.Manager, null, null).Problem() : null;

    private static void Join(Account account, Invitation invitation)
    {
        if (invitation is { GrantId: { } grant, HorseId: { } horse })
        {
            account.Shared = account.Shared.RemoveAll(s => s.GrantId == grant).Add(new HeldGrant(invitation.Practice, horse, grant));
            return;
        }

        account.Memberships = account
            .Memberships.RemoveAll(m => m.Practice == invitation.Practice)
            .Add(new Membership(invitation.Practice, invitation.PersonId, invitation.Role));
        account.Working = invitation.Practice;
    }
}
