using System.Text;
using BackHistory.Application.Imports;
using BackHistory.Application.Letters;
using BackHistory.Application.People;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.People;

/// <summary>A person is entered, changed and erased; the horses stay.</summary>
public sealed class ErasePersonalDataTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task Whoever_is_erased_is_gone_with_their_words_and_letters_and_their_horse_stays()
    {
        var practice = await acts.Found("erased");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var (id, letter) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);
        var said = await acts.Get<GiveAnswer>().ByReader(practice.Name, owner, new(id, Answer.Book, "Ring the bell twice."), default);
        Assert.Null(said.Refused);
        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);
        await acts.Store.CatchUp();
        var reminder = await practice.Reminder(id);

        var (done, refused) = await acts.Get<ErasePersonalData>().Do(new(owner), practice.By(PracticeRole.Administrator), default);

        Assert.Null(refused);
        Assert.Null(await acts.Get<PracticeQueries>().Person(practice.Name, owner, default));
        Assert.Empty((await acts.Get<NoteQueries>().Load(practice.Name, [reminder.AnswerNote!.Value], default)).OfType<object>());
        Assert.Null(await acts.Store.Reminders.Content(practice.Name, letter, default));
        Assert.Equal(["erase"], acts.Asked.For(letter.ToString()));
        Assert.Equal((1, 1), (done!.Erased.Notes, done.LetterFiles));
        Assert.Equal("Bramble", (await practice.Horse(reminder.HorseId)).Name);
        Assert.Equal(owner, (await practice.Horse(reminder.HorseId)).OwnerId);
    }

    [Fact]
    public async Task A_letter_that_waits_for_whoever_was_erased_is_sent_to_nobody()
    {
        var practice = await acts.Found("waiting letter");
        var (goes, stays) = (await practice.Person("Robin Marsh", PersonRole.Owner), await practice.Person("Toni Marsh", PersonRole.Owner));
        var (_, letter) = await practice.NeverMeasured("Thistle", goes, acts.Time.Now);
        var (_, other) = await practice.NeverMeasured("Sorrel", stays, acts.Time.Now);
        await acts.Store.CatchUp();

        await acts.Get<ErasePersonalData>().Do(new(goes), practice.By(PracticeRole.Administrator), default);
        await acts.Get<LetterPost>().Send(practice.Name, default);

        Assert.DoesNotContain(acts.Mail.Sent, l => l.Id == letter);
        Assert.Contains(acts.Mail.Sent, l => l.Id == other);
    }

    /// <summary>The column that names the person is not the one that their horses stand in.</summary>
    [Theory]
    [InlineData("title", "Horses of Robin Field;\nName;Colour\nBramble;bay\n", "lines 1")]
    [InlineData("header", "Name;Ridden by Robin Field\nBramble;yes\n", "the header")]
    [InlineData("all", "Horses of Robin Field;\nName;Robin Field rides\nBramble;for Robin Field\n", "the header, lines 1, 3")]
    public async Task A_table_that_waits_and_names_the_person_only_above_its_lines_is_told_of(string key, string table, string where)
    {
        var practice = await acts.Found($"erased above a table, {key}");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var id = practice.Id("table");
        var by = practice.By(PracticeRole.Administrator);
        Assert.Null((await acts.Get<SendTableIn>().Do(new(id, "old.csv", null, Encoding.UTF8.GetBytes(table)), by, default)).Refused);

        var (done, _) = await acts.Get<ErasePersonalData>().Do(new(owner), by, default);

        var told = Assert.Single(done!.Erased.Left, l => l.Kind == "table");
        Assert.Equal((id, $"old.csv: {where}"), (told.Id, told.Words));
    }

    [Fact]
    public async Task Nobody_erases_themselves_and_a_person_of_another_practice_stays_whole()
    {
        var (mine, theirs) = (await acts.Found("erase mine"), await acts.Found("erase theirs"));
        var stranger = await theirs.Person("Robin Field", PersonRole.Owner);
        var by = mine.By(PracticeRole.Administrator);

        Assert.Equal("not-oneself", (await acts.Get<ErasePersonalData>().Do(new(by.Context.Actor), by, default)).Refused!.Code);
        await acts.Get<ErasePersonalData>().Do(new(stranger), by, default);

        Assert.Equal("Robin Field", (await acts.Get<PracticeQueries>().Person(theirs.Name, stranger, default))!.Name);
    }

    [Fact]
    public async Task A_request_that_comes_once_more_after_they_were_erased_does_not_bring_a_person_back()
    {
        var practice = await acts.Found("not brought back");
        var add = new AddPerson.Input(practice.Id("robin"), Details("Robin Field"));
        Assert.Null((await acts.Get<AddPerson>().Do(add, practice.By(PracticeRole.Fitter), default)).Refused);
        await acts.Get<ErasePersonalData>().Do(new(add.PersonId), practice.By(PracticeRole.Administrator), default);

        Assert.Equal("person-erased", (await acts.Get<AddPerson>().Do(add, practice.By(PracticeRole.Fitter), default)).Refused!.Code);
        Assert.Null(await acts.Get<PracticeQueries>().Person(practice.Name, add.PersonId, default));
    }

    [Fact]
    public async Task A_change_of_details_keeps_what_was_not_said_and_what_the_person_stopped_themselves()
    {
        var practice = await acts.Found("details change");
        var add = new AddPerson.Input(practice.Id("robin"), Details("Robin Field") with { Phone = "01234 567890" });
        Assert.Null((await acts.Get<AddPerson>().Do(add, practice.By(PracticeRole.Fitter), default)).Refused);
        await acts.Get<StopLetters>().ByLetter(practice.Name, new(add.PersonId, LetterKind.OwnerRefit), default);

        var change = new ChangePerson.Input(add.PersonId, Details("Robin Hill") with { Phone = null }, PersonDetail.Email);
        Assert.Null((await acts.Get<ChangePerson>().Do(change, practice.By(PracticeRole.Fitter), default)).Refused);

        var person = (await acts.Get<PracticeQueries>().Person(practice.Name, add.PersonId, default))!;
        Assert.Equal(("Robin Hill", "01234 567890"), (person.Name, person.Phone));
        Assert.Equal([LetterKind.OwnerRefit], person.Stopped);
        var nobody = change with { PersonId = practice.Id("nobody") };
        Assert.Equal(
            RefusalKind.NotFound,
            (await acts.Get<ChangePerson>().Do(nobody, practice.By(PracticeRole.Fitter), default)).Refused!.Kind
        );
    }

    private static PersonDetails Details(string name) => new(name, "robin@people.invalid", null, null, PersonRole.Owner, "en", null);
}
