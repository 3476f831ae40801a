using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Horses;
using BackHistory.Store.Sharing;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Horses;

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
        var note = DeterministicId.From("note");
        await _yard.Do<Horse>(
            twice,
            March.AddDays(32),
            h => HorseDecider.Decide(h, new NoteCare(note, CareKind.LayOff, new DateOnly(2026, 1, 1), null, Guid.Empty), March.AddDays(32))
        );
        await _yard.Do<Horse>(
            twice,
            March.AddDays(33),
            h => HorseDecider.Decide(h, new EndCare(note, new DateOnly(2026, 2, 1), Guid.Empty), March.AddDays(33))
        );
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
        Assert.Contains(
            (await _store.Horses.Timeline(Practice, twice, null, 100, CancellationToken.None))!,
            t => t.Kind == "visit_withdrawn"
        );
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
    public async Task A_saddle_that_was_set_to_the_second_registration_at_the_moment_of_the_merge_follows_it()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        var (first, late) = (await _yard.Saddle(March), await _yard.Saddle(March, "18"));
        await _yard.Set(first, twice, null, March);
        // Read before the merge, written after it: once by a saddle that nobody knew of, once by one that has followed already.
        var asItWas = await _store.Horses.Load(Practice, twice, CancellationToken.None);
        await Merge(twice, stays, March.AddDays(1));
        foreach (var saddle in new[] { first, late })
        {
            var work = new RecordWork(Id($"late {saddle}"), twice, null, true, false, [], March, Guid.Empty, OnBoth: true);
            await _yard.Do<Saddle>(saddle, March, s => SaddleDecider.Decide(s, work, asItWas, March));
        }

        var merging = new Merging(_store.Store, _store.Commands);
        Assert.Equal(1, await merging.FinishAll(Practice, March.AddDays(2), CancellationToken.None));
        foreach (var saddle in new[] { first, late })
            Assert.All(
                (await _store.Saddles.Load(Practice, saddle, CancellationToken.None))!.Work,
                w => Assert.True(w.Withdrawn || w.HorseId == stays)
            );
        Assert.Equal(0, await merging.FinishAll(Practice, March.AddDays(3), CancellationToken.None));
    }

    [Fact]
    public async Task A_horse_that_took_another_in_is_not_withdrawn_while_visits_stand_there()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        var visit = await _yard.Visit(twice, March, 44, 46);
        await Merge(twice, stays, March);
        var mistake = new WithdrawHorse("Registered by mistake.", Guid.Empty);
        var horse = await _store.Horses.Load(Practice, stays, CancellationToken.None);
        Assert.Equal("took-in-another", HorseDecider.Decide(horse, mistake, March).Refused?.Code);
        await _yard.Withdraw(stays, visit, March);
        await _yard.Do<Horse>(stays, March, h => HorseDecider.Decide(h, mistake, March));
    }

    [Fact]
    public async Task A_horse_knows_every_second_registration_whose_history_goes_on_in_it_also_through_another()
    {
        var (first, second, third) = (
            await _yard.Horse(March, "Bramble"),
            await _yard.Horse(March, "Brambel"),
            await _yard.Horse(March, "Brumble")
        );
        var visit = await _yard.Visit(third, March, 44, 46);
        await Merge(third, second, March);
        await Merge(second, first, March);
        var horse = (await _store.Horses.Load(Practice, first, CancellationToken.None))!;
        Assert.Equal([visit], horse.Visits.Keys);
        Assert.Equal(new[] { second, third }.Order(), horse.Merged.Order());
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
        var outcome = await merging.Visits(
            PracticeStore.Context(Practice, "merge", March),
            horse,
            twice,
            stays,
            "Entered on two telephones.",
            CancellationToken.None
        );
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
        Assert.Equal(
            ReminderState.Withdrawn,
            Assert.Single(await _store.Reminders.Newest(Practice, [], twice, null, 10, CancellationToken.None)).State
        );
    }

    [Fact]
    public async Task Whoever_was_let_see_the_second_registration_sees_the_one_that_stays_as_it_was_given()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        var (grant, ended, link, bound, gone) = (Id("grant"), Id("ended"), Id("link"), Id("bound"), Id("gone"));
        var vet = new Person(Id("vet"), "Vet", "vet@people.invalid", null, null, PersonRole.Veterinarian);
        var by = Id("manager");
        var until = new DateOnly(2026, 9, 1);
        await Share(
            twice,
            March,
            (s, h) =>
                SharingDecider.Decide(
                    s,
                    new GrantAccess(grant, SharedWith.Veterinarian, SharedScope.Trends, true, until, by),
                    h,
                    vet,
                    Day(March),
                    March
                )
        );
        await Share(
            twice,
            March,
            (s, h) =>
                SharingDecider.Decide(
                    s,
                    new GrantAccess(ended, SharedWith.Physiotherapist, SharedScope.Trends, true, null, by),
                    h,
                    vet,
                    Day(March),
                    March
                )
        );
        await Share(twice, March, (s, _) => SharingDecider.Decide(s, new RevokeAccess(ended, "Over.", by), March));
        foreach (var (id, binds) in new[] { (link, false), (bound, true), (gone, false) })
            await Share(
                twice,
                March,
                (s, h) =>
                    SharingDecider.Decide(
                        s,
                        new MakeLink(id, SharedWith.Rider, SharedScope.Summary, true, binds, 60, by),
                        h,
                        null,
                        Day(March),
                        March
                    )
            );
        await Share(twice, March, (s, _) => SharingDecider.Decide(s, new BindLink(bound, "device", by), March));
        await Share(twice, March, (s, _) => SharingDecider.Decide(s, new RevokeLink(gone, null, by), March));
        var before = (await Shared(twice))!;
        await Merge(twice, stays, March.AddDays(10));

        var shared = (await Shared(stays))!;
        Assert.Equal(before.Grants, shared.Grants);
        Assert.Equal(before.Links, shared.Links);
        Assert.Equal((stays, (Guid?)null), (shared.HorseId, shared.MergedInto));
        Assert.Equal([twice], shared.Merged);
        // By whom it was given, when and until when, in the events of the horse that stays too; recorded when they were merged.
        await using var session = _store.Store.QuerySession(Practice);
        var events = await session.Events.FetchStreamAsync(HorseSharing.IdOf(stays));
        var given = events.Single(e => e.Data is AccessGranted g && g.GrantId == grant);
        Assert.Equal(
            new AccessGranted(grant, stays, vet.Id, SharedWith.Veterinarian, SharedScope.Trends, true, until, March, by),
            given.Data
        );
        Assert.Equal(March.AddDays(10), given.Timestamp);
        // Whoever still holds the name of the second registration finds what holds.
        var followed = (await Shared(twice))!;
        Assert.Equal((stays, shared.Version), (followed.HorseId, followed.Version));
        Assert.True(followed.Grants[grant].Holds(Day(March.AddDays(20)), null));

        // Taken back where it goes on, it is taken back; nothing is given or taken back behind its back.
        await Share(stays, March.AddDays(11), (s, _) => SharingDecider.Decide(s, new RevokeAccess(grant, null, by), March.AddDays(11)));
        Assert.False((await Shared(twice))!.Grants[grant].Holds(Day(March.AddDays(12)), null));
        var old = await session.LoadAsync<HorseSharing>(HorseSharing.IdOf(twice));
        var horse = await _store.Horses.Load(Practice, twice, CancellationToken.None);
        Assert.Equal("horse-merged", SharingDecider.Decide(old, new RevokeLink(link, null, by), March).Refused?.Code);
        Assert.Equal(
            "horse-merged",
            SharingDecider
                .Decide(
                    old,
                    new MakeLink(Id("late"), SharedWith.Rider, SharedScope.Summary, true, false, 5, by),
                    horse,
                    null,
                    Day(March),
                    March
                )
                .Refused?.Code
        );
        Assert.Equal(
            "horse-merged",
            SharingDecider
                .Decide(
                    null,
                    new MakeLink(Id("late"), SharedWith.Rider, SharedScope.Summary, true, false, 5, by),
                    horse,
                    null,
                    Day(March),
                    March
                )
                .Refused?.Code
        );
    }

    [Fact]
    public async Task Sight_of_a_horse_follows_through_two_merges_and_one_that_was_interrupted()
    {
        var (first, second, third) = (
            await _yard.Horse(March, "Bramble"),
            await _yard.Horse(March, "Brambel"),
            await _yard.Horse(March, "Brumble")
        );
        var link = Id("link");
        await Share(
            third,
            March,
            (s, h) =>
                SharingDecider.Decide(
                    s,
                    new MakeLink(link, SharedWith.Rider, SharedScope.Summary, true, false, 60, Guid.Empty),
                    h,
                    null,
                    Day(March),
                    March
                )
        );
        // Killed after its first step: the link holds where it held before, until the merge is finished.
        var into = await _store.Horses.Load(Practice, second, CancellationToken.None);
        await _yard.Do<Horse>(third, March, h => HorseDecider.Decide(h, new MergeAway(second, "One horse.", Guid.Empty), into, March));
        Assert.True((await Shared(third))!.Links.ContainsKey(link));
        await Merge(second, first, March.AddDays(1));
        var merging = new Merging(_store.Store, _store.Commands);
        Assert.Equal(1, await merging.FinishAll(Practice, March.AddDays(2), CancellationToken.None));
        Assert.Equal(first, (await Shared(third))!.HorseId);
        Assert.True((await Shared(first))!.Links.ContainsKey(link));
        var version = (await Shared(first))!.Version;
        Assert.Equal(0, await merging.FinishAll(Practice, March.AddDays(3), CancellationToken.None));
        Assert.Equal(version, (await Shared(first))!.Version);
    }

    [Fact]
    public async Task Horses_that_were_merged_before_sharing_followed_are_caught_up_with()
    {
        var (stays, twice) = (await _yard.Horse(March, "Bramble"), await _yard.Horse(March, "Brambel"));
        var horse = await _store.Horses.Load(Practice, twice, CancellationToken.None);
        await Merge(twice, stays, March);
        Assert.Null(await Shared(stays));
        // As it lies in the store of an earlier release, or where somebody shared the horse at the very moment of the merge.
        var link = Id("link");
        await _yard.Do<HorseSharing>(
            HorseSharing.IdOf(twice),
            March,
            s =>
                SharingDecider.Decide(
                    s,
                    new MakeLink(link, SharedWith.Rider, SharedScope.Summary, true, false, 60, Guid.Empty),
                    horse,
                    null,
                    Day(March),
                    March
                )
        );

        Assert.Equal(1, await new Merging(_store.Store, _store.Commands).FinishAll(Practice, March.AddDays(1), CancellationToken.None));
        Assert.True((await Shared(stays))!.Links.ContainsKey(link));
        Assert.Equal(stays, (await Shared(twice))!.HorseId);
    }

    private static Guid Id(string name) => DeterministicId.From("merging", name);

    private static DateOnly Day(DateTimeOffset at) => ZoneClock.Day(at, TimeZoneInfo.Utc);

    private Task<HorseSharing?> Shared(Guid horse) => new SharingQueries(_store.Store).Load(Practice, horse, CancellationToken.None);

    private async Task Share(Guid horse, DateTimeOffset at, Func<HorseSharing?, Horse?, Decided> decide)
    {
        var state = await _store.Horses.Load(Practice, horse, CancellationToken.None);
        await _yard.Do<HorseSharing>(HorseSharing.IdOf(horse), at, s => decide(s, state));
    }

    private Task<Outcome> Merge(Guid twice, Guid stays, DateTimeOffset at) =>
        new Merging(_store.Store, _store.Commands).Horses(
            PracticeStore.Context(Practice, $"merge {twice} {stays}", at),
            twice,
            stays,
            "One horse, written two ways.",
            CancellationToken.None
        );

    private async Task Evaluate(DateTimeOffset at)
    {
        _time.Now = at;
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None);
        await _store.CatchUp();
    }
}
