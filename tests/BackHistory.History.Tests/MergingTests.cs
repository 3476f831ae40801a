using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Testing;

namespace BackHistory.History.Tests;

/// <summary>The same horse registered twice, the same visit entered twice.</summary>
public sealed class MergingTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset March = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private readonly FixedTime _time = new(March);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
        await _store.Found(Practice, March);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_horse_registered_twice_is_one_horse_with_all_its_visits_notes_and_saddles()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        var first = await _yard.Visit(stays, March, 45, 45);
        var second = await _yard.Visit(twice, March.AddDays(30), 44, 46);
        var withdrawn = await _yard.Visit(twice, March.AddDays(31), 40, 40);
        await _yard.Withdraw(twice, withdrawn, March.AddDays(32));
        var note = DeterministicId.Of("note");
        await _yard.Do<Horse>(twice, March.AddDays(32), h => HorseDecider.Decide(h, new NoteCare(note, CareKind.LayOff, new DateOnly(2026, 1, 1), null, Guid.Empty), March.AddDays(32)));
        await _yard.Do<Horse>(twice, March.AddDays(33), h => HorseDecider.Decide(h, new EndCare(note, new DateOnly(2026, 2, 1), Guid.Empty), March.AddDays(33)));
        var saddle = await _yard.Saddle(March);
        await _yard.Set(saddle, twice, second, March.AddDays(30));

        var outcome = await Merge(twice, stays, March.AddDays(40));
        Assert.Null(outcome.Refused);
        Assert.Equal(stays, outcome.StreamId);
        await _store.CatchUp();

        var profile = (await _store.Horses.Profile(Practice, stays, CancellationToken.None))!;
        Assert.Equal([first, second], profile.Visits.OrderBy(v => v.Value).Select(v => v.Key));
        Assert.Equal(second, Assert.Single(profile.Fits).VisitId);
        Assert.Equal(new DateOnly(2026, 2, 1), Assert.Single(profile.Care).Until);
        var gone = (await _store.Horses.Profile(Practice, twice, CancellationToken.None))!;
        Assert.Equal((true, (Guid?)stays), (gone.Gone, gone.MergedInto));
        Assert.Empty(gone.Fits);
        var visits = (await _store.Horses.Visits(Practice, stays, CancellationToken.None))!;
        Assert.Contains(visits.Single(v => v.Id == second).Standing(), m => m.Key == "slope-left" && Math.Abs(m.Value!.Value - 44) < 0.5);
        var saddles = (await _store.Saddles.Load(Practice, saddle, CancellationToken.None))!;
        Assert.Equal(stays, Assert.Single(saddles.Work, w => !w.Withdrawn).HorseId);
        Assert.Contains((await _store.Horses.Timeline(Practice, twice, null, 100, CancellationToken.None))!, t => t.Kind == "visit_withdrawn");
    }

    [Fact]
    public async Task A_merge_that_was_killed_after_its_first_step_is_finished_later_and_only_once()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        await _yard.Visit(twice, March, 44, 46);
        var into = await _store.Horses.Load(Practice, stays, CancellationToken.None);
        await _yard.Do<Horse>(twice, March, h => HorseDecider.Decide(h, new MergeAway(stays, "One horse.", Guid.Empty), into, March));

        var merging = new Merging(_store.Store, _store.Commands);
        Assert.Equal(1, await merging.FinishAll(Practice, March, CancellationToken.None));
        var version = (await _store.Horses.Load(Practice, stays, CancellationToken.None))!.Version;
        Assert.Equal(0, await merging.FinishAll(Practice, March, CancellationToken.None));
        Assert.Equal(version, (await _store.Horses.Load(Practice, stays, CancellationToken.None))!.Version);
        Assert.Single((await _store.Horses.Load(Practice, stays, CancellationToken.None))!.Visits);
    }

    [Fact]
    public async Task A_horse_that_was_merged_away_takes_nothing_more_and_names_the_one_that_stayed()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        await Merge(twice, stays, March);
        var horse = await _store.Horses.Load(Practice, twice, CancellationToken.None);
        var refused = HorseDecider.Decide(horse, new ChangeYard(Guid.Empty, March, Guid.Empty), March).Refused;
        Assert.Equal("horse-merged", refused?.Code);
        Assert.Contains(stays.ToString(), refused!.Message, StringComparison.Ordinal);
        Assert.Equal("horse-merged", (await Merge(stays, twice, March)).Refused?.Code);
        Assert.Equal("same-horse", (await Merge(stays, stays, March)).Refused?.Code);
    }

    [Fact]
    public async Task A_visit_entered_twice_stands_once_with_everything_that_either_held()
    {
        var horse = await _yard.Horse(March, "Bramble");
        var stays = await _yard.Visit(horse, March, _yard.Section(45, 45), new WeightEntry(_yard.NewEntry(), 520));
        var twice = await _yard.Visit(horse, March, _yard.Section(45, 45), new ConditionEntry(_yard.NewEntry(), 5.5));
        var saddle = await _yard.Saddle(March);
        await _yard.Set(saddle, horse, twice, March);
        var merging = new Merging(_store.Store, _store.Commands);
        var outcome = await merging.Visits(PracticeStore.Context(Practice, "merge", March), horse, twice, stays, "Entered on two telephones.", CancellationToken.None);
        Assert.Null(outcome.Refused);
        await _store.CatchUp();

        var visits = (await _store.Horses.Visits(Practice, horse, CancellationToken.None))!;
        var standing = Assert.Single(visits, v => !v.Withdrawn);
        Assert.Equal(stays, standing.Id);
        Assert.Equal(["condition", "cross-section", "weight"], standing.Entries.Select(e => e.Kind).Order(StringComparer.Ordinal));
        Assert.Equal(stays, visits.Single(v => v.Withdrawn).MergedInto);
        _time.Now = March.AddDays(1);
        await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None);
        var assessment = (await _store.Reminders.Assessment(Practice, horse, CancellationToken.None))!;
        Assert.Equal(stays, Assert.Single(assessment.Saddles).BaselineVisit);
    }

    [Fact]
    public async Task The_reminder_of_a_horse_that_was_merged_away_is_withdrawn()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        await Evaluate(March.AddDays(60));
        Assert.Contains(await _store.Reminders.Newest(Practice, [], twice, null, 10, CancellationToken.None), r => !r.Over);
        await Merge(twice, stays, March.AddDays(61));
        await Evaluate(March.AddDays(61));
        Assert.Equal(ReminderState.Withdrawn, Assert.Single(await _store.Reminders.Newest(Practice, [], twice, null, 10, CancellationToken.None)).State);
    }

    private Task<Outcome> Merge(Guid twice, Guid stays, DateTimeOffset at) =>
        new Merging(_store.Store, _store.Commands).Horses(PracticeStore.Context(Practice, $"merge {twice} {stays}", at), twice, stays, "One horse, written two ways.", CancellationToken.None);

    private async Task Evaluate(DateTimeOffset at)
    {
        _time.Now = at;
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None);
        await _store.CatchUp();
    }
}
