using BackHistory.Application.Horses;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Tests.Horses;

/// <summary>A registration that was withdrawn by mistake comes back with all that stood in it.</summary>
public sealed class PutHorseBackTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private const string Chip = "276098100012345";

    [Fact]
    public async Task What_stood_before_it_was_withdrawn_stands_again_and_the_history_says_why()
    {
        var practice = await acts.Found("horse back");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Bramble", owner);
        await Withdraw(practice, horse);

        Assert.Null((await Back(practice, horse)).Refused);
        await acts.Store.CatchUp();

        var profile = (await acts.Get<HorseQueries>().Profile(practice.Name, horse, default))!;
        Assert.Equal((false, owner), (profile.Gone, profile.OwnerId));
        var lines = await acts.Get<HorseQueries>().Timeline(practice.Name, horse, null, 10, default);
        Assert.Contains(lines!, l => l.Kind == "horse_restored" && l.Fact.Values[0].Text == "It was the other one.");
    }

    [Fact]
    public async Task What_was_not_withdrawn_is_not_put_back_and_a_reason_is_asked_for()
    {
        var practice = await acts.Found("horse stands");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Bramble");

        Assert.Equal("horse-stands", (await Back(practice, horse)).Refused?.Code);
        await Withdraw(practice, horse);
        Assert.Equal("no-reason", (await Back(practice, horse, " ")).Refused?.Code);
        Assert.Equal("no-such-horse", (await Back(practice, practice.Id("nobody"))).Refused?.Code);
        Assert.True((await practice.Horse(horse)).Withdrawn);
    }

    [Fact]
    public async Task A_number_that_another_horse_has_by_now_is_told_before_two_have_it()
    {
        var practice = await acts.Found("horse back with a chip");
        var (horse, other) = (
            await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Bramble"),
            await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Thistle")
        );
        Assert.Null((await Identify(practice, horse)).Refused);
        await Withdraw(practice, horse);
        await acts.Store.CatchUp();
        Assert.Null((await Identify(practice, other)).Refused);

        var refused = (await Back(practice, horse)).Refused;

        Assert.Equal("identity-taken", refused?.Code);
        Assert.Contains("Thistle", refused!.Message, StringComparison.Ordinal);
        Assert.True((await practice.Horse(horse)).Withdrawn);
    }

    [Fact]
    public async Task Of_two_who_want_one_number_at_the_same_moment_one_gets_it()
    {
        var practice = await acts.Found("one chip, two hands");
        for (var round = 0; round < 20; round++)
        {
            var chip = FormattableString.Invariant($"27609810002{round:0000}");
            var (back, other) = (
                await practice.Yard.Horse(acts.Time.Now.AddDays(-30), $"Bramble {round}"),
                await practice.Yard.Horse(acts.Time.Now.AddDays(-30), $"Thistle {round}")
            );
            Assert.Null((await Identify(practice, back, chip)).Refused);
            await Withdraw(practice, back);

            var outcomes = await Task.WhenAll(Back(practice, back), Identify(practice, other, chip));

            Assert.Equal("identity-taken", Assert.Single(outcomes, o => o.Refused is not null).Refused!.Code);
        }
    }

    private Task<Outcome> Identify(TestPractice practice, Guid horse, string chip = Chip) =>
        acts.Get<IdentifyHorse>().Do(new(horse, chip, null), practice.By(PracticeRole.Fitter), default);

    private async Task Withdraw(TestPractice practice, Guid horse) =>
        Assert.Null(
            (await acts.Get<WithdrawHorseRegistration>().Do(new(horse, "By mistake."), practice.By(PracticeRole.Manager), default)).Refused
        );

    private Task<Outcome> Back(TestPractice practice, Guid horse, string reason = "It was the other one.") =>
        acts.Get<PutHorseBack>().Do(new(horse, reason), practice.By(PracticeRole.Manager), default);
}
