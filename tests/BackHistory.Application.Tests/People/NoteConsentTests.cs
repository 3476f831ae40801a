using BackHistory.Application.Files;
using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.Application.Sharing;
using BackHistory.Application.Tests.Practices;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.People;

/// <summary>What owners say when they are asked is kept with them, and what they refuse is not done.</summary>
public sealed class NoteConsentTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private static readonly DateOnly Day = new(2026, 2, 20);

    [Fact]
    public async Task The_answer_of_the_latest_day_stands_in_whatever_order_they_were_noted()
    {
        var practice = await acts.Found("consents order");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);

        await Note(practice, owner, ConsentKind.Photographs, given: false, Day);
        await Note(practice, owner, ConsentKind.Photographs, given: true, Day.AddDays(-30));
        await Note(practice, owner, ConsentKind.Measuring, given: true, on: null);

        var person = await Person(practice, owner);
        Assert.Equal((3, false), (person.Consents.Count, person.Last(ConsentKind.Photographs)!.Given));
        Assert.Equal(new DateOnly(2026, 3, 2), person.Last(ConsentKind.Measuring)!.On);
        Assert.Null(person.Last(ConsentKind.Sharing));
    }

    [Fact]
    public async Task A_photograph_of_a_horse_whose_owner_said_no_is_not_kept_and_a_document_is()
    {
        var practice = await acts.Found("consents photographs");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Bramble", owner);
        await Note(practice, owner, ConsentKind.Photographs, given: false, Day);

        var refused = (await Attach(practice, horse, "no", FileKind.Photograph)).Refused!;

        Assert.Equal(("no-consent", RefusalKind.Conflict), (refused.Code, refused.Kind));
        Assert.StartsWith("Robin Field said no to photographs on 20 Feb 2026. It was not saved", refused.Message, StringComparison.Ordinal);
        Assert.Null((await Attach(practice, horse, "paper", FileKind.Document)).Refused);
        await Note(practice, owner, ConsentKind.Photographs, given: true, Day.AddDays(1));
        Assert.Null((await Attach(practice, horse, "yes", FileKind.Photograph)).Refused);
    }

    [Fact]
    public async Task Whoever_can_be_seen_in_a_photograph_is_heard_too()
    {
        var practice = await acts.Found("consents shown");
        var rider = await practice.Person("Kim Rider", PersonRole.Rider);
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9));
        await Note(practice, rider, ConsentKind.Photographs, given: false, Day);

        Assert.Contains(
            "Kim Rider",
            (await Attach(practice, horse, "with rider", FileKind.Photograph, rider)).Refused!.Message,
            StringComparison.Ordinal
        );
        Assert.Null((await Attach(practice, horse, "without", FileKind.Photograph)).Refused);
    }

    [Fact]
    public async Task A_horse_whose_owner_said_no_is_shared_with_nobody_but_the_owner()
    {
        var practice = await acts.Found("consents sharing");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var vet = await practice.Person("Dr Hoof", PersonRole.Veterinarian);
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Bramble", owner);
        await Note(practice, owner, ConsentKind.Sharing, given: false, Day);

        foreach (var refused in new[] { await Link(practice, horse, SharedWith.Veterinarian, "a"), await Share(practice, horse, vet, "b") })
            Assert.StartsWith(
                "Robin Field said no to sharing on 20 Feb 2026. Nothing was shared",
                refused.Refused!.Message,
                StringComparison.Ordinal
            );
        Assert.Null((await Link(practice, horse, SharedWith.Owner, "c")).Refused);
        await Note(practice, owner, ConsentKind.Sharing, given: true, Day.AddDays(1));
        Assert.Null((await Share(practice, horse, vet, "d")).Refused);
    }

    [Fact]
    public async Task What_they_said_goes_with_them_when_they_are_erased_and_stands_in_no_event()
    {
        var practice = await acts.Found("consents erased");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        await Note(practice, owner, ConsentKind.Sharing, given: false, Day, "Said over the gate that Dapple is nobody's business.");

        await acts.Get<ErasePersonalData>().Do(new(owner), practice.By(PracticeRole.Administrator), default);

        await using var anywhere = acts.Store.Database.CreateCommand(
            """
            select (select count(*) from history.mt_events where data::text like '%over the gate%')
                 + (select count(*) from history.mt_doc_person where data::text like '%over the gate%')
                 + (select count(*) from history.mt_doc_auditnote where data::text like '%over the gate%')
            """
        );
        Assert.Equal(0L, await anywhere.ExecuteScalarAsync());
    }

    [Theory]
    [InlineData("", 0, "words")]
    [InlineData("On the telephone.", 1, "day")]
    [InlineData("On the telephone.", -40_000, "day")]
    public async Task What_cannot_be_so_is_refused_beside_its_field(string words, int days, string place)
    {
        var practice = await acts.Found($"consents refused {words.Length} {days}");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var on = new DateOnly(2026, 3, 2).AddDays(days);
        var input = new NoteConsent.Input(owner, ConsentKind.Measuring, true, on, words);
        Assert.Equal(place, (await acts.Get<NoteConsent>().Do(input, practice.By(PracticeRole.Apprentice), default)).Refused!.Place);
        Assert.Empty((await Person(practice, owner)).Consents);
    }

    private async Task Note(
        TestPractice practice,
        Guid person,
        ConsentKind kind,
        bool given,
        DateOnly? on,
        string words = "On the telephone."
    ) =>
        Assert.Null(
            (await acts.Get<NoteConsent>().Do(new(person, kind, given, on, words), practice.By(PracticeRole.Apprentice), default)).Refused
        );

    private async Task<Person> Person(TestPractice practice, Guid id) =>
        (await acts.Get<PracticeQueries>().Person(practice.Name, id, default))!;

    private Task<Outcome> Attach(TestPractice practice, Guid horse, string name, FileKind kind, params Guid[] shows)
    {
        var bytes = FileBytes.From(Samples.Picture.Bytes).File!;
        var file = new NewFile(practice.Id(name), kind, bytes, shows, null, null);
        return acts.Get<AttachHorseFile>().Do(new(horse, file), practice.By(PracticeRole.Fitter), default);
    }

    private Task<Outcome> Link(TestPractice practice, Guid horse, SharedWith role, string name) =>
        acts.Get<ShareHorseByLink>().Do(new(horse, practice.Id(name), null, role), practice.By(PracticeRole.Manager), default);

    private Task<Outcome> Share(TestPractice practice, Guid horse, Guid person, string name) =>
        acts.Get<ShareHorse>()
            .Do(
                new(horse, practice.Id(name), new Recipient.Known(person), SharedWith.Veterinarian),
                practice.By(PracticeRole.Manager),
                default
            );
}
