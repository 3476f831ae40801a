using BackHistory.Application.Access;
using BackHistory.Application.People;
using BackHistory.Application.Sharing;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Tests.Sharing;

/// <summary>A horse is shown to somebody outside the practice, who says something to it, and is shown it no more.</summary>
public sealed class ShareHorseTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task Shared_with_an_address_nobody_had_the_horse_waits_for_whoever_accepts_its_letter()
    {
        var practice = await acts.Found("shared with an address");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-1));
        var share = ByAddress(practice, horse, "Vet Field", "vet@people.invalid");

        Assert.Null((await acts.Get<ShareHorse>().Do(share, practice.By(PracticeRole.Manager, "share"), default)).Refused);
        // The answer was lost, and it is sent once more.
        Assert.Null((await acts.Get<ShareHorse>().Do(share, practice.By(PracticeRole.Manager, "share"), default)).Refused);

        var person = (await acts.Get<PracticeQueries>().PersonByEmail(practice.Name, "vet@people.invalid", default))!;
        Assert.Equal(PersonRole.Veterinarian, person.Role);
        var invitation = (await acts.Get<Invitations>().Load(InvitationOf(share), default))!;
        Assert.Equal((person.Id, horse, share.GrantId), (invitation.PersonId, invitation.HorseId, invitation.GrantId));
        Assert.Equal(["shared"], acts.Asked.For(invitation.Id.ToString()));
        var account = await Accepted(invitation);
        Assert.Equal(new HeldGrant(practice.Name, horse, share.GrantId), Assert.Single(account.Shared));
        Assert.Empty(account.Memberships);
    }

    [Theory]
    [InlineData("Vet Field", "Vet <vet@people.invalid>", "bad-email")]
    [InlineData(" ", "new@people.invalid", "no-name")]
    public async Task Nobody_is_shown_a_horse_by_a_name_around_an_address_or_without_a_name(string name, string email, string code)
    {
        var practice = await acts.Found($"refused {code}");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-1));
        var share = ByAddress(practice, horse, name, email);

        var outcome = await acts.Get<ShareHorse>().Do(share, practice.By(PracticeRole.Manager), default);

        Assert.Equal(code, outcome.Refused!.Code);
        Assert.Null(await acts.Get<SharingQueries>().Load(practice.Name, horse, default));
        Assert.Null(await acts.Get<Invitations>().Load(InvitationOf(share), default));
    }

    [Fact]
    public async Task A_comment_sent_twice_is_one_and_after_the_share_was_taken_back_there_is_no_more()
    {
        var practice = await acts.Found("comments");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-1));
        var vet = await practice.Person("Vet", PersonRole.Veterinarian);
        var share = new ShareHorse.Input(horse, practice.Id("grant"), new Recipient.Known(vet), SharedWith.Veterinarian);
        Assert.Null((await acts.Get<ShareHorse>().Do(share, practice.By(PracticeRole.Manager), default)).Refused);
        var said = Comment("once", "The left side is tense.");

        Assert.Null((await acts.Get<CommentOnSharedHorse>().Do(said, default)).Refused);
        Assert.True((await acts.Get<CommentOnSharedHorse>().Do(said, default)).Repeated);
        var back = new TakeBackShare.Input(horse, ShareKind.Grant, share.GrantId, "Sold.");
        Assert.Null((await acts.Get<TakeBackShare>().Do(back, practice.By(PracticeRole.Manager), default)).Refused);
        Assert.NotNull((await acts.Get<CommentOnSharedHorse>().Do(Comment("late", "And the right."), default)).Refused);

        var kept = Assert.Single(await acts.Get<SharingQueries>().Comments(practice.Name, horse, 10, default));
        Assert.Equal(("The left side is tense.", vet), (kept.Words, kept.PersonId));
        var grant = (await acts.Get<SharingQueries>().Load(practice.Name, horse, default))!.Grants[share.GrantId];
        Assert.NotNull(grant.RevokedAt);

        CommentOnSharedHorse.Input Comment(string key, string words) =>
            new(practice.Name, horse, vet, SharedWith.Veterinarian, null, share.GrantId, practice.Id(key), words);
    }

    [Fact]
    public async Task A_comment_that_is_sent_once_more_after_its_writer_was_erased_is_not_brought_back()
    {
        var practice = await acts.Found("comment of the erased");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-1));
        var vet = await practice.Person("Vet", PersonRole.Veterinarian);
        var share = new ShareHorse.Input(horse, practice.Id("grant"), new Recipient.Known(vet), SharedWith.Veterinarian);
        Assert.Null((await acts.Get<ShareHorse>().Do(share, practice.By(PracticeRole.Manager), default)).Refused);
        var said = new CommentOnSharedHorse.Input(
            practice.Name,
            horse,
            vet,
            SharedWith.Veterinarian,
            null,
            share.GrantId,
            practice.Id("key"),
            "Call me at home."
        );
        Assert.Null((await acts.Get<CommentOnSharedHorse>().Do(said, default)).Refused);
        var erase = new ErasePersonalData.Input(vet);
        Assert.Null((await acts.Get<ErasePersonalData>().Do(erase, practice.By(PracticeRole.Administrator), default)).Refused);

        await acts.Get<CommentOnSharedHorse>().Do(said, default);

        Assert.Empty(await acts.Get<SharingQueries>().Comments(practice.Name, horse, 10, default));
    }

    private static ShareHorse.Input ByAddress(TestPractice practice, Guid horse, string name, string email) =>
        new(horse, practice.Id("grant"), new Recipient.ByAddress(practice.Id("person"), name, email), SharedWith.Veterinarian);

    private static Guid InvitationOf(ShareHorse.Input share) => DeterministicId.From("invitation", share.GrantId.ToString());

    private async Task<Account> Accepted(Invitation invitation)
    {
        var account = new Account { Id = DeterministicId.From("account of", invitation.Id.ToString()), Email = invitation.Email };
        account.NormalizedEmail = account.Email.ToUpperInvariant();
        await acts.Get<AccountDocuments>().Add(account, default);
        await acts.Get<AcceptInvitation>().Do(new(invitation, account.Id), default);
        return (await acts.Get<AccountDocuments>().Load(account.Id, default))!;
    }
}
