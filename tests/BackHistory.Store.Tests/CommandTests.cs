using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Testing;

namespace BackHistory.Store.Tests;

public sealed class CommandTests : IAsyncLifetime
{
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task The_same_key_fifty_times_at_once_has_one_effect_and_fifty_equal_answers()
    {
        var yard = new TestYard(_store, "p1");
        var horse = await yard.Horse(June);
        var command = new RecordVisit(
            DeterministicId.Of("v"),
            June,
            Guid.Empty,
            new VisitConditions(),
            "flexible-curve",
            1,
            [yard.Section(40, 41)]
        );
        var context = PracticeStore.Context("p1", "the-key", June, fingerprint: "f");

        var outcomes = await Task.WhenAll(
            Enumerable
                .Range(0, 50)
                .Select(_ =>
                    Task.Run(() =>
                        _store.Commands.Execute<Horse>(context, horse, h => HorseDecider.Decide(h, command, June), CancellationToken.None)
                    )
                )
        );

        Assert.All(outcomes, o => Assert.Null(o.Refused));
        Assert.Single(outcomes.Select(o => (o.StreamId, o.Version)).Distinct());
        Assert.Equal(1, outcomes.Count(o => !o.Repeated));
        var state = await _store.Horses.Load("p1", horse, CancellationToken.None);
        Assert.Equal(3, state!.Version);
        Assert.Single(state.Visits);
    }

    [Fact]
    public async Task A_key_with_other_content_is_refused_and_nothing_is_written()
    {
        var yard = new TestYard(_store, "p2");
        var horse = await yard.Horse(June);
        var first = new CorrectHorse(new HorseDetails("Renamed", null, null, null, null, null), "typing", Guid.Empty);
        await _store.Commands.Execute<Horse>(
            PracticeStore.Context("p2", "k", June, fingerprint: "a"),
            horse,
            h => HorseDecider.Decide(h, first, June),
            CancellationToken.None
        );

        var second = await _store.Commands.Execute<Horse>(
            PracticeStore.Context("p2", "k", June, fingerprint: "b"),
            horse,
            h => HorseDecider.Decide(h, first with { Reason = "other" }, June),
            CancellationToken.None
        );

        Assert.Equal("key-reused", second.Refused?.Code);
        Assert.Equal(2, (await _store.Horses.Load("p2", horse, CancellationToken.None))!.Version);
    }

    [Fact]
    public async Task Of_many_writers_with_the_same_version_one_is_accepted_and_the_others_are_told_they_are_stale()
    {
        var yard = new TestYard(_store, "p3");
        var horse = await yard.Horse(June);

        var outcomes = await Task.WhenAll(
            Enumerable
                .Range(0, 12)
                .Select(i =>
                    Task.Run(() =>
                        _store.Commands.Execute<Horse>(
                            PracticeStore.Context("p3", $"writer-{i}", June, expected: 1),
                            horse,
                            h =>
                                HorseDecider.Decide(
                                    h,
                                    new CorrectHorse(new HorseDetails($"Name {i}", null, null, null, null, null), "race", Guid.Empty),
                                    June
                                ),
                            CancellationToken.None
                        )
                    )
                )
        );

        Assert.Equal(1, outcomes.Count(o => o.Refused is null));
        Assert.All(outcomes.Where(o => o.Refused is not null), o => Assert.Equal(RefusalKind.Stale, o.Refused!.Kind));
        Assert.Equal(2, (await _store.Horses.Load("p3", horse, CancellationToken.None))!.Version);
    }

    [Fact]
    public async Task Writers_that_accept_any_version_are_all_accepted_and_the_version_counts_them()
    {
        var yard = new TestYard(_store, "p4");
        var horse = await yard.Horse(June);

        var outcomes = await Task.WhenAll(
            Enumerable
                .Range(0, 3)
                .Select(i =>
                    Task.Run(() =>
                        _store.Commands.Execute<Horse>(
                            PracticeStore.Context("p4", $"writer-{i}", June),
                            horse,
                            h =>
                                HorseDecider.Decide(
                                    h,
                                    new NoteCare(DeterministicId.Of($"{i}"), CareKind.LayOff, new DateOnly(2026, 6, 1), null, Guid.Empty),
                                    June
                                ),
                            CancellationToken.None
                        )
                    )
                )
        );

        Assert.All(outcomes, o => Assert.Null(o.Refused));
        Assert.Equal(4, (await _store.Horses.Load("p4", horse, CancellationToken.None))!.Version);
    }

    [Fact]
    public async Task Another_practice_sees_nothing_of_a_horse_and_cannot_write_to_it()
    {
        var yard = new TestYard(_store, "mine");
        var horse = await yard.Horse(June);

        Assert.Null(await _store.Horses.Load("theirs", horse, CancellationToken.None));
        Assert.Null(await _store.Horses.Visits("theirs", horse, CancellationToken.None));
        var foreign = await _store.Commands.Execute<Horse>(
            PracticeStore.Context("theirs", "k", June),
            horse,
            h => HorseDecider.Decide(h, new WithdrawVisit(Guid.Empty, "no", Guid.Empty), June),
            CancellationToken.None
        );
        Assert.Equal("no-such-horse", foreign.Refused?.Code);
    }

    [Fact]
    public async Task The_recorded_clock_is_the_clock_of_the_decision()
    {
        var yard = new TestYard(_store, "p5");
        var horse = await yard.Horse(June);
        var later = June.AddDays(40);
        var command = new RecordVisit(
            DeterministicId.Of("late"),
            June.AddDays(1),
            Guid.Empty,
            new VisitConditions(),
            "flexible-curve",
            1,
            [yard.Section(40, 40)]
        );
        await yard.Do<Horse>(horse, later, h => HorseDecider.Decide(h, command, later));
        await _store.CatchUp();

        var visit = await _store.Horses.Visit("p5", horse, command.VisitId, CancellationToken.None);
        Assert.Equal(June.AddDays(1), visit!.TakenAt);
        Assert.Equal(later, visit.RecordedAt);
    }
}
