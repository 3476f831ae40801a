using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Access;

/// <summary>From a practice that is opened to the people who work in it.</summary>
public sealed class MembershipTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task A_practice_that_is_opened_has_an_invitation_for_its_administrator_and_nobody_in_it_yet()
    {
        var invitation = await Opened("Practice at the Ford");

        Assert.True(invitation.Open(acts.Time.Now));
        Assert.False(invitation.Open(acts.Time.Now.AddDays(1)));
        Assert.Equal(PracticeRole.Administrator, invitation.Role);
        Assert.Equal("Practice at the Ford", (await acts.Get<PracticeQueries>().Load(invitation.Practice, default))!.Name);
        Assert.Empty(await acts.Get<AccountDocuments>().In(invitation.Practice, default));
        Assert.Contains(await acts.Get<KnownPractices>().All(default), p => p.Id == invitation.Practice);
    }

    [Fact]
    public async Task Opened_again_before_anybody_came_it_is_the_same_practice_and_afterwards_it_is_refused()
    {
        var first = await Opened("Practice at the Mill", "first");
        var again = await Opened("Practice at the Mill", "again");
        Assert.Equal(first.Practice, again.Practice);
        await Joined(again);

        var (invitation, refused) = await acts.Get<OpenPractice>()
            .Do(new(Id("third"), "third@people.invalid", "Practice at the Mill", "Etc/UTC"), default);

        Assert.Null(invitation);
        Assert.Equal("has-administrator", refused!.Code);
    }

    [Fact]
    public async Task A_practice_in_a_time_zone_that_there_is_not_is_not_opened()
    {
        var (invitation, refused) = await acts.Get<OpenPractice>()
            .Do(new(Id("nowhere"), "nowhere@people.invalid", "Practice on the Moon", "Moon/Tranquillity"), default);

        Assert.Null(invitation);
        Assert.NotNull(refused);
        Assert.DoesNotContain(await acts.Get<KnownPractices>().All(default), p => p.Name == "Practice on the Moon");
    }

    [Fact]
    public async Task Whoever_is_invited_and_accepts_works_there_in_the_role_that_was_offered()
    {
        var opened = await Opened("Practice by the Church");
        var administrator = await Joined(opened);
        var by = By(opened);

        var asked = Invite(opened, "apprentice", "Robin Field", "robin@people.invalid", PracticeRole.Apprentice);
        Assert.Null(await acts.Get<InviteMember>().Do(asked, by, default));
        Assert.Equal(["invite"], acts.Asked.For(asked.InvitationId.ToString()));
        var invitation = (await acts.Get<Invitations>().Load(asked.InvitationId, default))!;
        Assert.Equal(invitation.Id, Assert.Single(await acts.Get<Invitations>().Open(opened.Practice, default)).Id);
        var account = await Joined(invitation);

        Assert.Equal(
            new Membership(opened.Practice, invitation.PersonId, PracticeRole.Apprentice),
            Assert.Single((await acts.Get<AccountDocuments>().Load(account, default))!.Memberships)
        );
        Assert.Empty(await acts.Get<Invitations>().Open(opened.Practice, default));
        Assert.Equal(2, (await acts.Get<AccountDocuments>().In(opened.Practice, default)).Count);
        Assert.NotEqual(administrator, account);
        var notes = await acts.Get<AuditBook>().Notes(opened.Practice, null, null, 10, default);
        Assert.Equal([AuditWords.Invited, AuditWords.Joined, AuditWords.Joined], notes.Select(n => n.What).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("", "robin@people.invalid", "name")]
    [InlineData("Robin", "Robin <robin@people.invalid>", "address")]
    [InlineData("Robin", null, "address")]
    public async Task Nobody_is_asked_without_a_name_or_at_what_is_no_address(string name, string? address, string code)
    {
        var opened = await Opened($"Practice that asks {name} at {address}");

        var asked = Invite(opened, "nobody", name, address, PracticeRole.Fitter);
        Assert.Equal(code, (await acts.Get<InviteMember>().Do(asked, By(opened), default))!.Code);

        Assert.Null(await acts.Get<Invitations>().Load(asked.InvitationId, default));
        Assert.Empty(acts.Asked.For(asked.InvitationId.ToString()));
    }

    [Fact]
    public async Task The_only_administrator_stays_one_until_there_is_another()
    {
        var opened = await Opened("Practice with one administrator");
        await Joined(opened);
        var by = By(opened);

        Assert.Equal("last", (await acts.Get<ChangeRole>().Do(new(opened.PersonId, PracticeRole.Fitter), by, default))!.Code);
        Assert.Equal("last", (await acts.Get<RemoveMember>().Do(new(opened.PersonId), by, default))!.Code);

        var asked = Invite(opened, "second", "Robin Field", "second@people.invalid", PracticeRole.Fitter);
        Assert.Null(await acts.Get<InviteMember>().Do(asked, by, default));
        var second = (await acts.Get<Invitations>().Load(asked.InvitationId, default))!;
        await Joined(second);
        Assert.Null(await acts.Get<ChangeRole>().Do(new(second.PersonId, PracticeRole.Administrator), by, default));

        Assert.Null(await acts.Get<RemoveMember>().Do(new(opened.PersonId), by, default));
        var left = Assert.Single(await acts.Get<AccountDocuments>().In(opened.Practice, default));
        Assert.Equal((second.PersonId, PracticeRole.Administrator), left.Memberships is [var m] ? (m.PersonId, m.Role) : default);
        Assert.Equal("gone", (await acts.Get<RemoveMember>().Do(new(opened.PersonId), by, default))!.Code);
    }

    private async Task<Invitation> Opened(string name, string key = "open")
    {
        var (invitation, refused) = await acts.Get<OpenPractice>()
            .Do(new(Id(name + key), $"{Id(name):N}@people.invalid", name, "Europe/Berlin"), default);
        Assert.Null(refused);
        return invitation!;
    }

    /// <summary>Somebody makes an account at the invitation's address, and takes it up.</summary>
    private async Task<Guid> Joined(Invitation invitation)
    {
        var account = new Account
        {
            Id = DeterministicId.From("account of", invitation.Id.ToString()),
            Email = invitation.Email,
            NormalizedEmail = $"{invitation.Id}@PEOPLE.INVALID",
            EmailConfirmed = true,
        };
        Assert.True(await acts.Get<AccountDocuments>().Add(account, default));
        Assert.Null(await acts.Get<AcceptInvitation>().Do(new(invitation, account.Id, "Robin Field"), default));
        return account.Id;
    }

    private static InviteMember.Input Invite(Invitation opened, string key, string? name, string? email, PracticeRole role) =>
        new(DeterministicId.From(key, opened.Practice), DeterministicId.From("person", key, opened.Practice), name, email, role, "en");

    private int _keys;

    private Caller By(Invitation opened) =>
        new(new(opened.Practice, opened.PersonId, $"act-{++_keys}", "", null, acts.Time.Now), PracticeRole.Administrator);

    private static Guid Id(string what) => DeterministicId.From("membership", what);
}
