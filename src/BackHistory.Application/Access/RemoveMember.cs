using BackHistory.History;
using BackHistory.History.Sharing;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Access;

/// <summary>
/// Takes somebody out of the practice; what they entered stays. Their next click, in whatever window, finds the door closed; their calendar
/// addresses and open invitations are void, and so are the links that they made to horses, for whoever made one may have kept it. What was
/// shared with somebody by name stays, and so do webhooks, which are the practice's: the audit says which.
/// </summary>
public sealed class RemoveMember(
    AccountDocuments accounts,
    Invitations invitations,
    CalendarFeeds feeds,
    Commands commands,
    SharingQueries shared,
    WebhookStore webhooks,
    AuditBook audit
) : IAct
{
    private const string MakerLeft = "Whoever made this link was taken out of the practice.";

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
        await EndLinks(input.PersonId, by, ct);
        await accounts.Change(account.Id, a => a.Memberships = a.Memberships.RemoveAll(m => m.Practice == practice), ct);
        await invitations.RevokeBy(practice, input.PersonId, ct);
        await feeds.RevokeOf(practice, input.PersonId, by.Context.Now, ct);
        // Once more: one may have been made while they were still let in.
        await EndLinks(input.PersonId, by, ct);
        await audit.Note(by, AuditWords.TakenOut, input.PersonId, null, ct);
        foreach (var webhook in (await webhooks.All(practice, ct)).Where(w => w.By == input.PersonId))
            await audit.Note(
                by with
                {
                    Context = by.Context with { Key = $"{by.Context.Key} leaves {webhook.Id:N}" },
                },
                AuditWords.WebhookStays,
                input.PersonId,
                webhook.Host,
                ct
            );
        return null;
    }

    private async Task EndLinks(Guid maker, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        foreach (var (horse, link) in await shared.LinksMadeBy(context.Tenant, maker, ct))
            await commands.Execute<HorseSharing>(
                context with
                {
                    Key = $"{context.Key} takes back {link:N}",
                    ExpectedVersion = null,
                },
                HorseSharing.IdOf(horse),
                s => SharingDecider.Decide(s, new RevokeLink(link, MakerLeft, context.Actor), context.Now),
                ct
            );
    }
}
