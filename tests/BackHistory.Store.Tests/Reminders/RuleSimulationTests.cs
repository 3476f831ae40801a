using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Language.Decisions;
using BackHistory.Language.Reminders;
using BackHistory.Store.Reminders.DryRuns;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Reminders;

/// <summary>Other rules on the practice's own history.</summary>
public sealed class RuleSimulationTests : IAsyncLifetime
{
    private const string Tenant = "practice";
    private static readonly DateTimeOffset January = new(2025, 1, 10, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly From = new(2025, 3, 1);
    private static readonly DateOnly To = new(2026, 3, 1);
    private readonly FixedTime _time = new(January);
    private PracticeStore _store = null!;
    private Guid _horse;

    /// <summary>Set in January, opened by the summer, seen again in July; the saddle set anew a week later.</summary>
    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        await _store.Found(Tenant, January);
        var yard = new TestYard(_store, Tenant);
        _horse = await yard.Horse(January.AddDays(-100));
        foreach (var days in new[] { -90, -45 })
            await yard.Visit(_horse, January.AddDays(days), 45, 45);
        var visit = await yard.Visit(_horse, January, 45, 45);
        var saddle = await yard.Saddle(January);
        await yard.Set(saddle, _horse, visit, January.AddHours(1));
        var opened = await yard.Visit(_horse, January.AddDays(180), 33, 33);
        await yard.Set(saddle, _horse, opened, January.AddDays(187));
        await yard.Visit(_horse, January.AddDays(250), 33, 33);
        await _store.CatchUp();
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task The_refit_that_was_done_is_preceded_by_the_reminder_of_a_changed_shape()
    {
        var run = await Run(ReminderRules.Default);

        var changed = Assert.Single(run.Reminders, r => r.Rule == ReminderRule.ShapeChanged);
        Assert.Equal(new DateOnly(2025, 7, 9), changed.On);
        Assert.Equal(_horse, changed.HorseId);
        var refit = Assert.Single(run.Refits);
        Assert.Equal(
            (new DateOnly(2025, 7, 16), (DateOnly?)changed.On, (ReminderRule?)ReminderRule.ShapeChanged),
            (refit.On, refit.ReminderOn, refit.Rule)
        );
        Assert.Equal((1, 1, 1), (run.Raised[ReminderRule.ShapeChanged], run.RefitsDone, run.RefitsPreceded));
    }

    [Fact]
    public async Task A_rule_that_is_switched_off_raises_nothing_and_precedes_nothing()
    {
        var off = new RuleSetting(On: false);
        var run = await Run(
            ReminderRules.Default with
            {
                ShapeChanged = off,
                SidesUnlike = off,
                WeightChanged = off,
                CheckDue = off,
                NoVisit = off,
                VetCaution = off,
                MeasureAgain = off,
                Growing = ReminderRules.Default.Growing with { On = false },
                FastLoss = ReminderRules.Default.FastLoss with { On = false },
                NotRechecked = ReminderRules.Default.NotRechecked with { On = false },
            }
        );

        Assert.Empty(run.Reminders);
        Assert.Equal((1, 0), (run.RefitsDone, run.RefitsPreceded));
    }

    [Fact]
    public async Task A_ground_that_must_hold_longer_than_it_stood_raises_nothing()
    {
        var run = await Run(
            ReminderRules.Default with
            {
                ShapeChanged = new RuleSetting(HoldDays: 30),
                SidesUnlike = new RuleSetting(HoldDays: 30),
            }
        );

        Assert.DoesNotContain(run.Reminders, r => Families.FamilyOf(r.Rule) == ReminderFamily.Shape && r.Until is null);
        Assert.DoesNotContain(ReminderRule.ShapeChanged, run.Raised.Keys);
    }

    [Fact]
    public async Task Evaluated_day_by_day_in_earnest_the_same_rules_raise_the_same_reminders_on_the_same_days()
    {
        var rehearsed = (await Run(ReminderRules.Default)).Reminders;
        // A second horse lives the same life in earnest, entered as it happens.
        var yard = new TestYard(_store, "in earnest");
        await _store.Found("in earnest", January);
        var horse = await yard.Horse(January.AddDays(-100));
        var saddle = await yard.Saddle(January);
        Guid? last = null;
        for (var day = -90; ZoneClock.Day(January.AddDays(day), TimeZoneInfo.Utc) <= To; day++)
        {
            if (day is -90 or -45 or 0)
                last = await yard.Visit(horse, January.AddDays(day), 45, 45);
            if (day is 180 or 250)
                last = await yard.Visit(horse, January.AddDays(day), 33, 33);
            if (day is 0)
                await yard.Set(saddle, horse, last, January.AddHours(1));
            if (day is 187)
                await yard.Set(saddle, horse, last, January.AddDays(187));
            if (day is 49 or 180 or 187 or 250)
                await _store.CatchUp();
            if (day < 50)
                continue;
            _time.Now = January.AddDays(day).AddHours(14);
            await _store.EvaluationAt(_time).Run("in earnest", CancellationToken.None);
        }

        var real = await _store.Reminders.OfHorse("in earnest", horse, CancellationToken.None);
        Assert.Equal(
            rehearsed.Where(r => !r.Standing).Select(r => (r.Rule, r.On)).OrderBy(r => r.On),
            real.Select(r => (r.Rule, ZoneClock.Day(r.RaisedAt, TimeZoneInfo.Utc))).OrderBy(r => r.Item2)
        );
    }

    /// <summary>Two days after the back was seen to have opened, and before the saddle was set anew.</summary>
    private static readonly DateOnly Opened = new(2025, 7, 11);

    [Fact]
    public async Task A_horse_that_would_stand_otherwise_is_named_beside_how_it_stands_now_and_no_other_is()
    {
        Assert.Empty((await Run(ReminderRules.Default, to: Opened)).Changes);
        var off = new RuleSetting(On: false);

        var change = Assert.Single((await Run(ReminderRules.Default with { ShapeChanged = off, SidesUnlike = off }, to: Opened)).Changes);

        Assert.Contains(change.Now.Reminders, r => r.Rule == ReminderRule.ShapeChanged);
        Assert.DoesNotContain(change.Then.Reminders, r => r.Rule == ReminderRule.ShapeChanged);
        Assert.Equal(change.Now.State, change.Then.State);
    }

    private async Task<DryRun> Run(ReminderRules rules, DateOnly? to = null)
    {
        var runs = new DryRuns(_store.Store, ReminderSentences.InEnglish, DecisionSentences.InEnglish, _time);
        var id = DeterministicId.From("dry-run", $"{rules.GetHashCode()} {to}");
        await runs.Ask(Tenant, id, rules, Trends.Rules.WatchRules.Default, From, to ?? To, int.MaxValue, CancellationToken.None);
        await runs.Carry(Tenant, id, CancellationToken.None);
        var run = (await runs.Load(Tenant, id, CancellationToken.None))!;
        Assert.NotNull(run.FinishedAt);
        Assert.Null(run.Failed);
        return run;
    }
}
