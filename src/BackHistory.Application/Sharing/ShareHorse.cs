using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Sharing;

/// <summary>Lets a person see a horse, and writes the letter with which they accept it.</summary>
public sealed class ShareHorse(SharingWork sharing, PracticeQueries practices, Invitations invitations, IAccountLetters letters) : IAct
{
    private const int LongestName = 120;

    private static readonly Refused BadEmail = new("bad-email", "This is no e-mail address.", Place: "email");
    private static readonly Refused BadRole = new("bad-role", "A horse is not shared with anybody of that kind.", Place: "role");
    private static readonly Refused NoName = new("no-name", "Say in up to 120 letters who it is.", Place: "name");

    public static Right Needs => Right.Manage;

    /// <param name="Scope">What the role sees by default when null.</param>
    /// <param name="MayComment">Yes when null.</param>
    /// <param name="Until">The last day, or until it is taken back.</param>
    public sealed record Input(
        Guid HorseId,
        Guid GrantId,
        Recipient With,
        SharedWith Role,
        SharedScope? Scope = null,
        bool? MayComment = null,
        DateOnly? Until = null
    );

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var c = by.Context;
        var (person, refused) = await Person(c, input, ct);
        if (refused is not null)
            return new Outcome(input.GrantId, 0, 0, refused);
        var grant = new GrantAccess(
            input.GrantId,
            input.Role,
            input.Scope ?? ShareDefaults.ScopeOf(input.Role),
            input.MayComment ?? true,
            input.Until,
            c.Actor
        );
        var outcome = await sharing.Decide(
            c,
            input.HorseId,
            _ => person?.Id,
            (s, horse, known, today) => SharingDecider.Decide(s, grant, horse, known, today, c.Now),
            ct,
            toOthers: input.Role != SharedWith.Owner
        );
        // Repeated after a lost answer, the letter may not have been written yet; whoever was erased since gets none.
        if (outcome.Refused is null && person is not null)
            await Invite(c, input.HorseId, person, input.GrantId, ct);
        return outcome;
    }

    private async Task<(Person? Person, Refused? Refused)> Person(CommandContext c, Input input, CancellationToken ct)
    {
        if (input.With is not Recipient.ByAddress address)
            return (await practices.Person(c.Tenant, ((Recipient.Known)input.With).PersonId, ct), null);
        if (!EmailAddress.TryParse(address.Email, out var valid))
            return (null, BadEmail);
        if (!Enum.IsDefined(input.Role))
            return (null, BadRole);
        if (await practices.PersonByEmail(c.Tenant, valid.Value, ct) is { } known)
            return (known, null);
        if (ReadableName.IsMissing(address.Name) || address.Name.Length > LongestName)
            return (null, NoName);
        var person = new Person(address.PersonId, address.Name.Trim(), valid.Value, null, null, RoleOf(input.Role));
        await practices.Add(c.Tenant, person, ct);
        return (person, null);
    }

    private async Task Invite(CommandContext c, Guid horseId, Person person, Guid grantId, CancellationToken ct)
    {
        var id = DeterministicId.From("invitation", grantId.ToString());
        if (await invitations.Load(id, ct) is not null)
            return;
        var invitation = new Invitation(
            id,
            c.Tenant,
            person.Id,
            person.Email!,
            person.Language,
            PracticeRole.ReadOnly,
            c.Actor,
            c.Now,
            c.Now + Invitation.Life
        )
        {
            GrantId = grantId,
            HorseId = horseId,
        };
        await invitations.Add(invitation, ct);
        letters.TellOfSharedHorse(id);
    }

    private static PersonRole RoleOf(SharedWith role) =>
        role switch
        {
            SharedWith.Owner => PersonRole.Owner,
            SharedWith.Rider => PersonRole.Rider,
            SharedWith.Veterinarian => PersonRole.Veterinarian,
            SharedWith.Physiotherapist => PersonRole.Physiotherapist,
            _ => PersonRole.Fitter,
        };
}
