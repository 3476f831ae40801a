using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Horses;

/// <summary>A horse is registered with a new owner and a new yard in one go, once, or not at all.</summary>
public sealed class EnterHorseTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task A_horse_its_owner_and_its_yard_are_there_once_however_often_they_are_sent()
    {
        var practice = await acts.Found("enter once");
        for (var time = 0; time < 2; time++)
        {
            var done = await acts.Get<EnterHorse>()
                .Do(Bramble(practice, "Olga Example"), practice.By(PracticeRole.Fitter, "sent"), default);
            Assert.Null(done.Refused);
            Assert.Equal(time == 1, done.Repeated);
        }

        var horse = await practice.Horse(practice.Id("bramble"));
        Assert.Equal((practice.Id("olga"), practice.Id("yard")), (horse.OwnerId!.Value, horse.YardId!.Value));
        var people = acts.Get<PracticeQueries>();
        Assert.Equal("Olga Example", (await people.Person(practice.Name, practice.Id("olga"), default))!.Name);
        Assert.Equal("Birch Yard", Assert.Single(await people.Yards(practice.Name, default)).Name);
    }

    [Fact]
    public async Task The_same_key_with_another_owner_in_it_is_told_and_changes_nobody()
    {
        var practice = await acts.Found("enter another");
        Assert.Null(
            (await acts.Get<EnterHorse>().Do(Bramble(practice, "Olga Example"), practice.By(PracticeRole.Fitter, "sent"), default)).Refused
        );
        var again = await acts.Get<EnterHorse>().Do(Bramble(practice, "Paul Second"), practice.By(PracticeRole.Fitter, "sent"), default);
        Assert.Equal(CommandRefusals.KeyReused.Code, again.Refused?.Code);
        Assert.Equal("Olga Example", (await acts.Get<PracticeQueries>().Person(practice.Name, practice.Id("olga"), default))!.Name);
    }

    [Theory]
    [InlineData("", "Olga Example", "Birch Yard", "name")]
    [InlineData("Bramble", "", "Birch Yard", "owner")]
    [InlineData("Bramble", "Olga Example", "", "yard")]
    public async Task What_will_be_refused_leaves_nobody_behind(string horse, string owner, string yard, string place)
    {
        var practice = await acts.Found($"enter refused {place}");
        var given = Bramble(practice, owner) with
        {
            Details = new HorseDetails(horse, null, null, null, null, null),
            NewYard = new YardDetails(yard, null),
        };
        var refused = (await acts.Get<EnterHorse>().Do(given, practice.By(PracticeRole.Fitter), default)).Refused;
        Assert.Equal(place, refused?.Place);
        var people = acts.Get<PracticeQueries>();
        Assert.Null(await people.Person(practice.Name, practice.Id("olga"), default));
        Assert.Empty(await people.Yards(practice.Name, default));
        Assert.Null(await acts.Store.Horses.Load(practice.Name, practice.Id("bramble"), default));
    }

    private static EnterHorse.Input Bramble(TestPractice practice, string owner) =>
        new(
            practice.Id("bramble"),
            new HorseDetails("Bramble", null, null, null, null, null),
            practice.Id("olga"),
            practice.Id("yard"),
            new PersonDetails(owner, null, null, null, PersonRole.Owner, null, null),
            new YardDetails("Birch Yard", null)
        );
}
