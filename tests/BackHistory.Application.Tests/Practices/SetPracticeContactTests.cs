using BackHistory.Application.Letters;
using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Practices;

/// <summary>How a practice is reached stands on its letters, and nowhere in what cannot be erased.</summary>
public sealed class SetPracticeContactTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private static readonly ContactDetails Ford = new("12 Ford Lane, Aston", "01234 567890", "office@ford.invalid");

    [Fact]
    public async Task A_letter_says_how_the_practice_is_reached_shows_its_picture_and_is_answered_at_its_reply_address()
    {
        var practice = await acts.Found("contact letters");
        await Set(practice, Ford, Samples.Picture);
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var (_, letter) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);

        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);

        var sent = acts.Mail.Sent.Single(l => l.Id == letter);
        Assert.Contains("12 Ford Lane, Aston · 01234 567890 · office@ford.invalid", sent.Text, StringComparison.Ordinal);
        Assert.Contains("12 Ford Lane, Aston", sent.Html, StringComparison.Ordinal);
        Assert.Contains("src=\"cid:mark@letter\"", sent.Html, StringComparison.Ordinal);
        var mark = sent.Pictures.Single(p => p.ContentId == "mark@letter");
        Assert.Equal("image/png", mark.MediaType);
        Assert.Equal(Samples.Picture.Bytes, mark.Png);
        Assert.Equal("office@ford.invalid", sent.ReplyTo);
    }

    [Fact]
    public async Task A_letter_of_a_practice_that_said_nothing_is_as_it_was()
    {
        var practice = await acts.Found("contact unsaid");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var (_, letter) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);

        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);

        var sent = acts.Mail.Sent.Single(l => l.Id == letter);
        Assert.Null(sent.ReplyTo);
        Assert.DoesNotContain("mark@letter", sent.Html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_changed_is_named_in_the_audit_and_said_in_no_event()
    {
        var practice = await acts.Found("contact audit");
        await Set(practice, Ford, Samples.Picture);
        await Set(practice, Ford with { Phone = "09876" }, null);
        var contact = (await acts.Get<PracticeQueries>().Contact(practice.Name, default))!;

        Assert.Equal((2, "09876", Samples.Picture.Hash), (contact.Version, contact.Phone, contact.Picture!.Hash));
        Assert.Null((await acts.Get<PracticeQueries>().Contact((await acts.Found("contact of others")).Name, default)));
        await using var session = acts.Store.Store.QuerySession(practice.Name);
        var notes = await session.QueryAsync<AuditNote>("where d.tenant_id = ? order by d.data ->> 'at', d.id", default, practice.Name);
        Assert.Equal(
            ["address, telephone, reply address, picture", "telephone"],
            notes.Where(n => n.What == AuditWords.ContactChanged).Select(n => n.Detail).OrderByDescending(d => d!.Length)
        );
        await using var events = acts.Store.Database.CreateCommand(
            "select count(*) from history.mt_events where data::text like '%Ford Lane%' or data::text like '%01234 567890%'"
        );
        Assert.Equal(0L, await events.ExecuteScalarAsync());

        Assert.Null((await Set(practice, new ContactDetails(null, null, null), null, without: true)).Refused);
        Assert.Equal("", (await acts.Get<PracticeQueries>().Contact(practice.Name, default))!.InOneLine());
        Assert.Null((await acts.Get<PracticeQueries>().Contact(practice.Name, default))!.Picture);
    }

    [Fact]
    public async Task What_cannot_stand_on_a_letter_is_refused_beside_its_field()
    {
        var practice = await acts.Found("contact refused");
        var notDrawn = Samples.Picture with { Bytes = [1, 2, 3] };
        (string Place, Task<Outcome> Outcome)[] refused =
        [
            ("replyTo", Set(practice, Ford with { ReplyTo = "Ford <office@ford.invalid>" }, null)),
            ("phone", Set(practice, Ford with { Phone = new string('1', 41) }, null)),
            ("address", Set(practice, Ford with { Address = "12 Ford Lane\nBcc: all@others.invalid" }, null)),
            ("picture", Set(practice, Ford, notDrawn)),
        ];
        foreach (var (place, outcome) in refused)
            Assert.Equal(place, (await outcome).Refused!.Place);
        Assert.Null(await acts.Get<PracticeQueries>().Contact(practice.Name, default));
    }

    private Task<Outcome> Set(TestPractice practice, ContactDetails details, PracticePicture? picture, bool without = false) =>
        acts.Get<SetPracticeContact>().Do(new(details, picture, without), practice.By(PracticeRole.Manager), default);
}
