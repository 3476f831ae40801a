using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Testing;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Store.Tests.Reminders;

/// <summary>
/// A refit or a caution that rests on one visit whose tracings all lean the same way is no letter to the owner: whoever traced levels the
/// sheet and traces again.
/// </summary>
public sealed class LeaningVisitTests : IAsyncLifetime
{
    private const string Tenant = "practice";
    private static readonly DateTimeOffset January = new(2026, 1, 10, 9, 0, 0, TimeSpan.Zero);
    private static readonly Guid Owner = DeterministicId.From("owner");
    private static readonly Guid Manager = DeterministicId.From("manager");

    /// <summary>Whose hands <see cref="TestYard"/> traces by.</summary>
    private static readonly Guid Hands = DeterministicId.From("fitter");
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
    private readonly FixedTime _time = new(January);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;
    private Guid _horse;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Tenant);
        await _store.Found(Tenant, January);
        _horse = await _yard.Horse(January, owner: Owner);
        var saddle = await _yard.Saddle(January);
        var first = await Traced(January, 0);
        await _yard.Set(saddle, _horse, first, January);
        await Traced(January.AddDays(70), 0.2);
        await Traced(January.AddDays(130), -0.2);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task The_owner_is_not_written_to_and_whoever_traced_is_asked_to_trace_again()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));

        var reminder = Assert.Single(await Reminders());
        Assert.Equal((ReminderRule.MeasureAgain, ReminderState.Open), (reminder.Rule, reminder.State));
        Assert.Equal(
            "The tracings of Test Horse of 29 July 2026 all lean the same way to the right: level the sheet and trace again.",
            reminder.Evidence.Sentence
        );
        var letter = Assert.Single(await Owed());
        Assert.Equal((LetterKind.MeasureAgain, Hands), (letter.Kind, letter.To));
        var assessment = await Assessment();
        Assert.Equal(WatchState.Unknown, assessment.State);
        Assert.Equal("right", assessment.Worst!.Decision.Leaning!.Way);
    }

    [Theory]
    [InlineData(PersonRole.Owner)]
    [InlineData(null)]
    public async Task Tracings_that_nobody_of_the_practice_took_are_the_managers_affair(PersonRole? by)
    {
        await Practice(by);
        await Traced(On(200), 4);
        await Evaluate(On(200));

        Assert.Equal(Manager, Assert.Single(await Owed()).To);
    }

    [Fact]
    public async Task The_next_visit_that_says_the_same_ends_the_waiting()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));
        await Traced(On(210), 3.6);
        await Evaluate(On(211));

        var again = Assert.Single(await Reminders(), r => r.Rule == ReminderRule.MeasureAgain);
        Assert.Equal(ReminderState.Done, again.State);
        var decision = (await Assessment()).Worst!.Decision;
        Assert.Null(decision.Leaning);
        Assert.Empty(decision.LeftOut);
    }

    [Fact]
    public async Task The_next_visit_that_does_not_ends_it()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));
        await Traced(On(210), 0.3);
        await Evaluate(On(211));

        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);
        Assert.DoesNotContain(await Owed(), l => l.To == Owner);
        var decision = (await Assessment()).Worst!.Decision;
        Assert.Null(decision.Leaning);
        Assert.Null(decision.Caution);
        Assert.NotEqual(WatchState.Refit, decision.State);
    }

    private static DateTimeOffset On(int days) => January.AddDays(days);

    /// <summary>A back that has narrowed by a little, by a sheet that leans to the right.</summary>
    private Task<Guid> Traced(DateTimeOffset at, double lean) =>
        _yard.Visit(_horse, at, [.. Stations.Select(s => _yard.Section(45 - lean + Narrowed(lean), 45 + lean + Narrowed(lean), s))]);

    private static double Narrowed(double lean) => lean > 1 ? 1.2 : 0;

    /// <param name="hands">What whoever traces is to the practice; null = nobody knows them.</param>
    private async Task Practice(PersonRole? hands)
    {
        await using var session = _store.Store.LightweightSession(Tenant);
        session.Store(Somebody(Manager, PersonRole.Manager), Somebody(Owner, PersonRole.Owner));
        if (hands is { } role)
            session.Store(Somebody(Hands, role));
        await session.SaveChangesAsync();
    }

    private static Person Somebody(Guid id, PersonRole role) => new(id, $"{role}", $"{id:N}@people.invalid", null, null, role);

    private async Task Evaluate(DateTimeOffset at)
    {
        _time.Now = at;
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Tenant, CancellationToken.None);
        await _store.CatchUp();
    }

    private async Task<IReadOnlyList<Reminder>> Reminders() =>
        await _store.Reminders.Newest(Tenant, [], _horse, null, 50, CancellationToken.None);

    private async Task<IReadOnlyList<Letter>> Owed() => await _store.Reminders.Owed(Tenant, 10, CancellationToken.None);

    private async Task<Assessment> Assessment() => (await _store.Reminders.Assessment(Tenant, _horse, CancellationToken.None))!;
}
