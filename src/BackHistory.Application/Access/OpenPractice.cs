using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Access;

/// <summary>A new practice with an invitation for its first administrator. Asked for again it goes on where an earlier run stopped, until
/// somebody has come.</summary>
public sealed class OpenPractice(
    Commands commands,
    PracticeQueries practices,
    KnownPractices known,
    AccountDocuments accounts,
    Invitations invitations,
    TimeProvider time
) : IAct
{
    public static Right Needs => Right.Operate;

    /// <param name="Email">The administrator's; their name is its first part until they say another.</param>
    /// <param name="TimeZone">IANA.</param>
    public sealed record Input(Guid InvitationId, string Email, string Name, string TimeZone);

    /// <returns>The invitation, which holds for a day, or why there is none.</returns>
    public async Task<(Invitation? Invitation, Refused? Refused)> Do(Input input, CancellationToken ct)
    {
        var tenant = DeterministicId.From("practice named", input.Name.ToUpperInvariant()).ToString("N");
        if ((await accounts.In(tenant, ct)).Count > 0)
            return (null, new Refused("has-administrator", $"{input.Name} has people already; its administrators invite others."));

        var now = time.GetUtcNow();
        var person = new Person(
            DeterministicId.From("first administrator", tenant),
            input.Email.Split('@')[0],
            input.Email,
            null,
            null,
            PersonRole.Manager
        );
        var found = new FoundPractice(DeterministicId.From("practice", tenant), input.Name, input.TimeZone, false, person.Id);
        var outcome = await commands.Execute<Practice>(
            new CommandContext(tenant, person.Id, "founded", "", null, now),
            found.PracticeId,
            p => p is null ? PracticeDecider.Decide(p, found, now) : Decided.Yes(),
            ct
        );
        if (outcome.Refused is { } refused)
            return (null, refused);
        await practices.Add(tenant, person, ct);
        await known.Add(new KnownPractice(tenant, input.Name, input.TimeZone), ct);
        var invitation = new Invitation(
            input.InvitationId,
            tenant,
            person.Id,
            input.Email,
            "en",
            PracticeRole.Administrator,
            Guid.Empty,
            now,
            now.AddDays(1)
        );
        await invitations.Add(invitation, ct);
        return (invitation, null);
    }
}
