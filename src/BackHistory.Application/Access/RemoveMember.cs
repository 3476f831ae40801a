using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Access;

/// <summary>Takes somebody out of the practice; what they entered stays. Their next click, in whatever window, finds the door
/// closed, and their calendar addresses and open invitations are void.</summary>
public sealed class RemoveMember(AccountDocuments accounts, Invitations invitations, CalendarFeeds feeds, AuditBook audit) : IAct
{
    public static Right Needs => Right.Administer;

    public sealed record Input(Guid PersonId);

    /// <returns>Why they still work here; null when they do not.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var practice = by.Context.Tenant;
        if (await accounts.Member(practice, input.PersonId, ct) is not { } account)
            return Members.Gone;
        if (await accounts.IsLastAdministrator(practice, account, ct))
            return Members.Last;
        await accounts.Change(account.Id, a => a.Memberships = a.Memberships.RemoveAll(m => m.Practice == practice), ct);
        await invitations.RevokeBy(practice, input.PersonId, ct);
        await feeds.RevokeOf(practice, input.PersonId, by.Context.Now, ct);
        await audit.Note(by, AuditWords.TakenOut, input.PersonId, null, ct);
        return null;
    }
}
