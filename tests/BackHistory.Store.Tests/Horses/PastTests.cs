using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store.Events;
using BackHistory.Store.Horses;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Store.Tests.Horses;

/// <summary>What did we know on a day: history has two clocks.</summary>
public sealed class PastTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset March = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;
    private Guid _horse;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
        await _store.Found(Practice, March.AddYears(-1));
        _horse = await _yard.Horse(March.AddDays(-100));
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_visit_entered_in_April_was_not_known_in_March_though_it_happened_in_January()
    {
        await _yard.Visit(_horse, March.AddDays(-10), 45, 45);
        var late = await Record(March.AddDays(-50), recorded: March.AddDays(40));
        await _store.CatchUp();

        var then = (await Known(March))!;
        Assert.DoesNotContain(then.Visits, v => v.Id == late);
        Assert.Single(then.Profile.Visits);
        var now = (await Known(March.AddDays(41)))!;
        Assert.Equal(late, now.Visits[0].Id);
        Assert.Equal(2, now.Profile.Visits.Count);
    }

    [Fact]
    public async Task What_was_withdrawn_later_stood_then_and_the_finding_of_that_day_rests_on_it()
    {
        var fitted = await _yard.Visit(_horse, March.AddDays(-90), 45, 45);
        var saddle = await _yard.Saddle(March.AddDays(-90));
        await _yard.Set(saddle, _horse, fitted, March.AddDays(-90));
        await _yard.Visit(_horse, March.AddDays(-60), 45, 45);
        var wrong = await _yard.Visit(_horse, March.AddDays(-5), 33, 33);
        await _yard.Withdraw(_horse, wrong, March.AddDays(5));
        await _store.CatchUp();

        Assert.Equal(WatchState.Refit, (await Known(March))!.Watch!.State);
        Assert.NotEqual(WatchState.Refit, (await Known(March.AddDays(6)))!.Watch!.State);
        Assert.Contains((await Known(March))!.Visits, v => v.Id == wrong && !v.Withdrawn);
    }

    [Fact]
    public async Task The_finding_of_a_day_is_judged_by_the_rules_of_that_day()
    {
        var lenient = WatchRules.Default with { Thresholds = [new ThresholdRule("slope-left", 40)] };
        await _yard.Do<Practice>(
            DeterministicId.Of("practice", Practice),
            March,
            p => PracticeDecider.Decide(p, new ChangeWatchRules(lenient, "to see", Guid.Empty), March)
        );
        await _store.CatchUp();

        Assert.Equal(1, (await Known(March.AddDays(-1)))!.Watch!.RulesVersion);
        Assert.Equal(2, (await Known(March.AddDays(1)))!.Watch!.RulesVersion);
    }

    [Fact]
    public async Task Today_is_what_the_read_models_say_and_before_its_registration_nothing_was_known()
    {
        var visit = await _yard.Visit(_horse, March.AddDays(-10), 45, 45);
        var saddle = await _yard.Saddle(March);
        await _yard.Set(saddle, _horse, visit, March.AddDays(-9));
        await _store.CatchUp();

        var now = (await Known(March.AddDays(1)))!;
        var json = StoredJson.Options();
        string Bytes<T>(T of) => System.Text.Json.JsonSerializer.Serialize(of, json);
        Assert.Equal(Bytes((await _store.Horses.Profile(Practice, _horse, CancellationToken.None))!), Bytes(now.Profile));
        Assert.Equal(Bytes((await _store.Horses.Visits(Practice, _horse, CancellationToken.None))!), Bytes(now.Visits));
        Assert.Equal(Bytes((await _store.Horses.Timeline(Practice, _horse, null, 100, CancellationToken.None))!), Bytes(now.Timeline));
        Assert.Null(await Known(March.AddDays(-101)));
        Assert.Null(await new PastQueries(_store.Store).Horse("another", _horse, March, CancellationToken.None));
    }

    private Task<HorseThen?> Known(DateTimeOffset at) => new PastQueries(_store.Store).Horse(Practice, _horse, at, CancellationToken.None);

    private async Task<Guid> Record(DateTimeOffset taken, DateTimeOffset recorded)
    {
        var visit = DeterministicId.Of("late");
        await _yard.Do<Horse>(
            _horse,
            recorded,
            h =>
                HorseDecider.Decide(
                    h,
                    new RecordVisit(visit, taken, Guid.Empty, new VisitConditions(), "flexible-curve", 1, [_yard.Section(46, 46)]),
                    recorded
                )
        );
        return visit;
    }
}
