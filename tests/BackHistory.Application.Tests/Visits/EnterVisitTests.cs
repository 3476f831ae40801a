using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Visits;

/// <summary>A visit is entered, by whom, and who answers for it.</summary>
public sealed class EnterVisitTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task What_an_apprentice_enters_waits_until_a_fitter_confirms_it()
    {
        var practice = await acts.Found("visit of an apprentice");
        var (horse, visit) = (await practice.Yard.Horse(acts.Time.Now), practice.Id("visit"));

        Carried(await acts.Get<EnterVisit>().Do(Weighed(practice, horse, visit, 512), practice.By(PracticeRole.Apprentice), default));
        Assert.True((await practice.Horse(horse)).Visits[visit].AwaitsConfirmation);

        Carried(await acts.Get<ConfirmEnteredVisit>().Do(new(horse, visit), practice.By(PracticeRole.Fitter), default));
        Assert.False((await practice.Horse(horse)).Visits[visit].AwaitsConfirmation);
    }

    [Fact]
    public async Task What_an_apprentice_adds_to_a_confirmed_visit_waits_again()
    {
        var practice = await acts.Found("more by an apprentice");
        var (horse, visit) = (await practice.Yard.Horse(acts.Time.Now), practice.Id("visit"));
        Carried(await acts.Get<EnterVisit>().Do(Weighed(practice, horse, visit, 512), practice.By(PracticeRole.Fitter), default));
        Assert.False((await practice.Horse(horse)).Visits[visit].AwaitsConfirmation);

        var more = new EnterMore.Input(horse, visit, [new ConditionEntry(practice.Id("condition"), 5.5)]);
        Carried(await acts.Get<EnterMore>().Do(more, practice.By(PracticeRole.Apprentice), default));

        var state = (await practice.Horse(horse)).Visits[visit];
        Assert.True(state.AwaitsConfirmation);
        Assert.Equal(2, state.Entries.Count);
    }

    [Fact]
    public async Task A_visit_sent_twice_under_one_key_is_one_visit()
    {
        var practice = await acts.Found("visit sent twice");
        var (horse, visit) = (await practice.Yard.Horse(acts.Time.Now), practice.Id("visit"));
        var given = Weighed(practice, horse, visit, 512);

        var first = await acts.Get<EnterVisit>().Do(given, practice.By(PracticeRole.Fitter, "once"), default);
        var second = await acts.Get<EnterVisit>().Do(given, practice.By(PracticeRole.Fitter, "once"), default);

        Assert.Equal((false, true), (first.Repeated, second.Repeated));
        Assert.Equal(first.Version, second.Version);
        Assert.Equal(first.Version, (await practice.Horse(horse)).Version);
    }

    [Fact]
    public async Task A_weight_that_no_horse_has_is_refused_and_nobody_is_told_of_a_change()
    {
        var practice = await acts.Found("implausible weight");
        var horse = await practice.Yard.Horse(acts.Time.Now);
        var before = await practice.Horse(horse);

        var given = Weighed(practice, horse, practice.Id("visit"), 1e308);
        var outcome = await acts.Get<EnterVisit>().Do(given, practice.By(PracticeRole.Fitter), default);

        Assert.NotNull(outcome.Refused);
        Assert.Equal(before.Version, (await practice.Horse(horse)).Version);
        Assert.Empty(acts.Asked.For(practice.Name));
    }

    [Fact]
    public async Task Whoever_follows_a_practice_is_told_of_a_visit_and_no_other_practice_is()
    {
        var (practice, other) = (await acts.Found("told of a visit"), await acts.Found("told of nothing"));
        var horse = await practice.Yard.Horse(acts.Time.Now);

        var given = Weighed(practice, horse, practice.Id("visit"), 512);
        Carried(await acts.Get<EnterVisit>().Do(given, practice.By(PracticeRole.Fitter), default));

        Assert.Equal(["happened"], acts.Asked.For(practice.Name));
        Assert.Empty(acts.Asked.For(other.Name));
    }

    [Fact]
    public async Task A_horse_of_another_practice_is_like_one_that_there_is_not()
    {
        var (mine, theirs) = (await acts.Found("mine"), await acts.Found("theirs"));
        var horse = await theirs.Yard.Horse(acts.Time.Now);
        var (there, nowhere) = (Weighed(mine, horse, mine.Id("visit"), 512), Weighed(mine, mine.Id("no horse"), mine.Id("visit"), 512));

        var foreign = await acts.Get<EnterVisit>().Do(there, mine.By(PracticeRole.Manager), default);
        var missing = await acts.Get<EnterVisit>().Do(nowhere, mine.By(PracticeRole.Manager), default);

        Assert.Equal(RefusalKind.NotFound, foreign.Refused!.Kind);
        Assert.Equal(missing.Refused, foreign.Refused);
        Assert.Empty((await theirs.Horse(horse)).Visits);
    }

    [Fact]
    public async Task Who_saw_an_older_state_of_the_horse_is_told_so_and_nothing_is_entered()
    {
        var practice = await acts.Found("older state");
        var horse = await practice.Yard.Horse(acts.Time.Now);
        var seen = (await practice.Horse(horse)).Version;
        await practice.Yard.Visit(horse, acts.Time.Now);

        var given = Weighed(practice, horse, practice.Id("visit"), 512);
        var outcome = await acts.Get<EnterVisit>().Do(given, practice.By(PracticeRole.Fitter, expected: seen), default);

        Assert.Equal(RefusalKind.Stale, outcome.Refused!.Kind);
        Assert.Single((await practice.Horse(horse)).Visits);
    }

    private EnterVisit.Input Weighed(TestPractice practice, Guid horse, Guid visit, double kilograms) =>
        new(
            horse,
            visit,
            acts.Time.Now.AddHours(-1),
            null,
            new VisitConditions(),
            "flexible-curve",
            [new WeightEntry(practice.Id("weight"), kilograms)]
        );

    private static void Carried(Outcome outcome) => Assert.Null(outcome.Refused);
}
