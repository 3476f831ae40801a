using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Visits;

/// <summary>What was put right is put back the same way.</summary>
public sealed class PutBackTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task A_withdrawn_visit_stands_again_with_what_stood_of_it_and_only_once()
    {
        var practice = await acts.Found("visit back");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var (wrong, right) = (practice.Yard.NewEntry(), practice.Yard.NewEntry());
        var visit = await practice.Yard.Visit(
            horse,
            acts.Time.Now.AddDays(-1),
            new WeightEntry(wrong, 512),
            new ConditionEntry(right, 5.5)
        );
        var fitter = practice.By;
        await Done(acts.Get<WithdrawOneEntry>().Do(new(horse, visit, wrong, "Read wrongly."), fitter(PracticeRole.Fitter), default));
        Assert.Equal("visit-stands", (await Back()).Refused?.Code);
        await Done(acts.Get<WithdrawWholeVisit>().Do(new(horse, visit, "Another horse."), fitter(PracticeRole.Fitter), default));

        Assert.Null((await Back()).Refused);

        var visits = (await practice.Horse(horse)).Visits;
        var again = visits[VisitIds.RestoredId(visit)];
        Assert.Equal((false, false, 1), (again.Withdrawn, again.AwaitsConfirmation, again.Entries.Count(e => e.Value)));
        Assert.Equal(visits[visit].TakenAt, again.TakenAt);
        Assert.Equal("visit-restored", (await Back()).Refused?.Code);

        Task<Outcome> Back() => acts.Get<PutVisitBack>().Do(new(horse, visit), fitter(PracticeRole.Fitter), default);
    }

    [Fact]
    public async Task What_an_apprentice_puts_back_waits_to_be_confirmed()
    {
        var practice = await acts.Found("apprentice back");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var visit = await practice.Yard.Visit(horse, acts.Time.Now.AddDays(-1), new WeightEntry(practice.Yard.NewEntry(), 512));
        await Done(acts.Get<WithdrawWholeVisit>().Do(new(horse, visit, "Weigh again."), practice.By(PracticeRole.Fitter), default));

        await Done(acts.Get<PutVisitBack>().Do(new(horse, visit), practice.By(PracticeRole.Apprentice), default));

        Assert.True((await practice.Horse(horse)).Visits[VisitIds.RestoredId(visit)].AwaitsConfirmation);
    }

    [Fact]
    public async Task A_merge_of_two_visits_is_taken_back_and_what_was_taken_over_leaves_the_other()
    {
        var practice = await acts.Found("merge back");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var at = acts.Time.Now.AddDays(-1);
        var stays = await practice.Yard.Visit(horse, at, new WeightEntry(practice.Yard.NewEntry(), 512));
        var twice = await practice.Yard.Visit(horse, at, new ConditionEntry(practice.Yard.NewEntry(), 5.5));
        await Done(acts.Get<MergeVisits>().Do(new(horse, twice, stays, "One visit."), practice.By(PracticeRole.Fitter), default));

        await Done(acts.Get<PutVisitBack>().Do(new(horse, twice), practice.By(PracticeRole.Fitter), default));

        var visits = (await practice.Horse(horse)).Visits;
        Assert.Equal((2, 1), (visits[stays].Entries.Count, visits[stays].Entries.Count(e => e.Value)));
        Assert.Equal(1, visits[VisitIds.RestoredId(twice)].Entries.Count(e => e.Value));
    }

    [Fact]
    public async Task An_entry_that_was_corrected_takes_its_place_again_and_one_that_was_withdrawn_stands_again()
    {
        var practice = await acts.Found("entry back");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var (first, second) = (practice.Yard.NewEntry(), practice.Yard.NewEntry());
        var visit = await practice.Yard.Visit(horse, acts.Time.Now.AddDays(-1), new WeightEntry(first, 512));
        var replaced = new ReplaceEntry.Input(horse, visit, first, new WeightEntry(second, 521), "Read wrongly.");
        await Done(acts.Get<ReplaceEntry>().Do(replaced, practice.By(PracticeRole.Fitter), default));

        await Done(acts.Get<PutEntryBack>().Do(new(horse, visit, first, "It was right."), practice.By(PracticeRole.Fitter), default));

        var again = VisitIds.RestoredId(first);
        var entries = (await practice.Horse(horse)).Visits[visit].Entries;
        Assert.Equal((false, false, true), (entries[first], entries[second], entries[again]));
        await Done(acts.Get<WithdrawOneEntry>().Do(new(horse, visit, again, "Never so."), practice.By(PracticeRole.Fitter), default));
        await Done(acts.Get<PutEntryBack>().Do(new(horse, visit, again, "It was so."), practice.By(PracticeRole.Fitter), default));
        Assert.Equal(
            [VisitIds.RestoredId(again)],
            (await practice.Horse(horse)).Visits[visit].Entries.Where(e => e.Value).Select(e => e.Key)
        );
        var once = await acts.Get<PutEntryBack>().Do(new(horse, visit, first, "Once more."), practice.By(PracticeRole.Fitter), default);
        Assert.Equal("entry-stands", once.Refused?.Code);
    }

    [Fact]
    public async Task A_visit_is_given_to_the_horse_that_was_measured_and_back_and_to_none_that_was_not_born()
    {
        var practice = await acts.Found("given");
        var (wrong, right) = (
            await practice.Yard.Horse(acts.Time.Now.AddDays(-2), "Wrong"),
            await practice.Yard.Horse(acts.Time.Now.AddDays(-2), "Right")
        );
        var visit = await practice.Yard.Visit(wrong, acts.Time.Now.AddDays(-1), new WeightEntry(practice.Yard.NewEntry(), 512));
        var nobody = await Give(wrong, visit, Guid.NewGuid());
        Assert.Equal(("no-such-horse", "to"), (nobody.Refused?.Code, nobody.Refused?.Place));
        Assert.Equal("same-horse", (await Give(wrong, visit, wrong)).Refused?.Code);

        Assert.Null((await Give(wrong, visit, right)).Refused);

        Assert.True((await practice.Horse(wrong)).Visits[visit].Withdrawn);
        var given = VisitIds.GivenId(visit, right);
        var there = (await practice.Horse(right)).Visits[given];
        Assert.Equal((false, 1), (there.Withdrawn, there.Entries.Count(e => e.Value)));
        Assert.Contains("happened", acts.Asked.For(practice.Name));

        Assert.Null((await Give(right, given, wrong)).Refused);
        Assert.False((await practice.Horse(wrong)).Visits[VisitIds.GivenId(given, wrong)].Withdrawn);

        Task<Outcome> Give(Guid horse, Guid of, Guid to) =>
            acts.Get<GiveVisitToHorse>().Do(new(horse, of, to, "Mistaken at the gate."), practice.By(PracticeRole.Fitter), default);
    }

    private static async Task Done(Task<Outcome> act) => Assert.Null((await act).Refused);
}
