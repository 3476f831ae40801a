using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Service.Access.Letters;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Sharing;

/// <summary>Gives sight of a horse: the same for the API and for the page's forms.</summary>
public sealed class ShareService(
    Commands commands,
    HorseQueries horses,
    PracticeQueries practices,
    Invitations invitations,
    AccountPost post,
    TimeProvider time
)
{
    private const int OwnerDays = 30;
    private const int Days = 14;

    /// <summary>What a role sees unless somebody says otherwise.</summary>
    public static SharedScope ScopeOf(SharedWith role) =>
        role switch
        {
            SharedWith.Owner or SharedWith.Rider => SharedScope.Summary,
            SharedWith.AnotherPractice => SharedScope.Record,
            _ => SharedScope.Trends,
        };

    public static int DaysOf(SharedWith role) => role == SharedWith.Owner ? OwnerDays : Days;

    /// <summary>Grants, and writes the letter with which the person accepts it.</summary>
    public async Task<Outcome> Grant(CommandContext c, Guid horseId, Guid grantId, GrantRequest r, CancellationToken ct)
    {
        var (horse, today) = await Of(c.Tenant, horseId, ct);
        var person = await practices.Person(c.Tenant, r.PersonId, ct);
        var outcome = await commands.Execute<HorseSharing>(
            c,
            HorseSharing.IdOf(horseId),
            s =>
                SharingDecider.Decide(
                    s,
                    new GrantAccess(grantId, r.Role, r.Scope ?? ScopeOf(r.Role), r.MayComment ?? true, r.Until, c.Actor),
                    horse,
                    person,
                    today,
                    c.Now
                ),
            ct
        );
        // Repeated after a lost answer, the letter may not have been written yet.
        if (outcome.Refused is null)
            await Invite(c, horse!, person!, grantId, ct);
        return outcome;
    }

    public async Task<Outcome> Link(CommandContext c, Guid horseId, Guid linkId, LinkRequest r, CancellationToken ct)
    {
        var (horse, today) = await Of(c.Tenant, horseId, ct);
        var personId = r.PersonId ?? (r.Role == SharedWith.Owner ? horse?.OwnerId : null);
        var person = personId is { } id ? await practices.Person(c.Tenant, id, ct) : null;
        if (r.PersonId is not null && person is null)
            return new Outcome(linkId, 0, 0, horse is null ? HorseRefusals.NoSuchHorse : SharingRefusals.NoSuchPerson);
        return await commands.Execute<HorseSharing>(
            c,
            HorseSharing.IdOf(horseId),
            s =>
                SharingDecider.Decide(
                    s,
                    new MakeLink(
                        linkId,
                        r.Role,
                        r.Scope ?? ScopeOf(r.Role),
                        r.MayComment ?? true,
                        r.BindsToDevice ?? false,
                        r.Days ?? DaysOf(r.Role),
                        c.Actor
                    ),
                    horse,
                    person,
                    today,
                    c.Now
                ),
            ct
        );
    }

    private async Task<(Horse? Horse, DateOnly Today)> Of(string practice, Guid horseId, CancellationToken ct)
    {
        var horse = await horses.Load(practice, horseId, ct);
        return (horse, PracticeClock.Today((await practices.Load(practice, ct))!, time));
    }

    private async Task Invite(CommandContext c, Horse horse, Person person, Guid grantId, CancellationToken ct)
    {
        var id = DeterministicId.Of("invitation", grantId.ToString());
        if (await invitations.Load(id, ct) is not null)
            return;
        await invitations.Add(
            new Invitation(
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
                HorseId = horse.Id,
            },
            ct
        );
        post.Send(AccountLetter.Shared, id);
    }
}
