using BackHistory.Application.Visits;
using BackHistory.History.Horses;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Visits;

/// <summary>A visit that was entered twice, and one that is put right.</summary>
public sealed class MergeVisitsTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task What_only_one_of_two_visits_holds_goes_into_the_other()
    {
        var practice = await acts.Found("entered twice");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var at = acts.Time.Now.AddDays(-1);
        var stays = await practice.Yard.Visit(horse, at, new WeightEntry(practice.Yard.NewEntry(), 512));
        var twice = await practice.Yard.Visit(horse, at, new ConditionEntry(practice.Yard.NewEntry(), 5.5));

        var merge = new MergeVisits.Input(horse, twice, stays, "One visit.");
        var outcome = await acts.Get<MergeVisits>().Do(merge, practice.By(PracticeRole.Fitter), default);

        Assert.Null(outcome.Refused);
        var visits = (await practice.Horse(horse)).Visits;
        Assert.True(visits[twice].Withdrawn);
        Assert.Equal((false, 2), (visits[stays].Withdrawn, visits[stays].Entries.Count(e => e.Value)));
        Assert.Equal(["happened"], acts.Asked.For(practice.Name));
    }

    [Fact]
    public async Task A_visit_is_not_merged_into_itself_and_without_a_reason_into_none()
    {
        var practice = await acts.Found("merged into itself");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var (one, two) = (await practice.Yard.Visit(horse, acts.Time.Now), await practice.Yard.Visit(horse, acts.Time.Now));

        foreach (var merge in new MergeVisits.Input[] { new(horse, one, one, "One visit."), new(horse, one, two, " ") })
            Assert.NotNull((await acts.Get<MergeVisits>().Do(merge, practice.By(PracticeRole.Fitter), default)).Refused);

        Assert.All((await practice.Horse(horse)).Visits.Values, v => Assert.False(v.Withdrawn));
        Assert.Empty(acts.Asked.For(practice.Name));
    }

    [Fact]
    public async Task A_wrong_entry_is_replaced_with_its_reason_and_a_withdrawn_visit_takes_nothing_more()
    {
        var practice = await acts.Found("put right");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-2));
        var (wrong, right) = (practice.Yard.NewEntry(), practice.Yard.NewEntry());
        var visit = await practice.Yard.Visit(horse, acts.Time.Now.AddDays(-1), new WeightEntry(wrong, 5120 / 10.0));

        var replaced = new ReplaceEntry.Input(horse, visit, wrong, new WeightEntry(right, 521), "Read wrongly.");
        Assert.Null((await acts.Get<ReplaceEntry>().Do(replaced, practice.By(PracticeRole.Fitter), default)).Refused);
        var entries = (await practice.Horse(horse)).Visits[visit].Entries;
        Assert.Equal((false, true), (entries[wrong], entries[right]));

        var gone = new WithdrawWholeVisit.Input(horse, visit, "Another horse.");
        Assert.Null((await acts.Get<WithdrawWholeVisit>().Do(gone, practice.By(PracticeRole.Fitter), default)).Refused);
        var more = new EnterMore.Input(horse, visit, [new ConditionEntry(practice.Yard.NewEntry(), 5)]);
        Assert.NotNull((await acts.Get<EnterMore>().Do(more, practice.By(PracticeRole.Fitter), default)).Refused);
    }
}
