using System.Collections.Immutable;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Projections;

/// <summary>What follows from an event is worked out before it is recorded; the history takes nothing back.</summary>
public sealed class ConsequencesTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);

    /// <summary>Its flags come out as infinite lengths.</summary>
    private static readonly ImmutableDictionary<string, Point> Wild = ImmutableDictionary<string, Point>
        .Empty.Add("shoulder", new(1e308, 0))
        .Add("behind-shoulder", new(-1e308, -8))
        .Add("last-rib", new(450, 0));

    private PracticeStore _store = null!;
    private TestYard _yard = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    public static TheoryData<string, string> Faults =>
        new()
        {
            { "a tracing whose measures come out as no numbers", "not-computable" },
            { "a tracing without points, on which the computation breaks", "not-computable" },
            { "a weight that is no number", "not-writable" },
            { "a station that holds NUL", "unreadable" },
        };

    [Theory]
    [MemberData(nameof(Faults))]
    public async Task A_decision_whose_consequences_cannot_be_computed_is_refused_and_nothing_is_written(string fault, string code)
    {
        var horse = await _yard.Horse(June);
        var visit = await _yard.Visit(horse, June);

        var outcome = await _store.Commands.Execute<Horse>(
            PracticeStore.Context(Practice, "k", June),
            horse,
            _ => Decided.Yes(Faulty(fault, visit)),
            CancellationToken.None
        );

        Assert.Equal(code, outcome.Refused?.Code);
        Assert.Contains("Nothing was saved", outcome.Refused!.Message, StringComparison.Ordinal);
        Assert.Equal(2, (await _store.Horses.Load(Practice, horse, CancellationToken.None))!.Version);
        await _store.CatchUp();
        Assert.Empty((await _store.Horses.Visit(Practice, horse, visit, CancellationToken.None))!.Entries);
    }

    [Fact]
    public async Task Of_many_decisions_at_once_the_one_that_cannot_be_computed_is_refused_and_the_others_stand()
    {
        var horse = await _yard.Horse(June);
        var visit = await _yard.Visit(horse, June);
        OneOfMany<Horse> Enter(string key, object e) => new(key, key, _ => Decided.Yes(e));

        var outcomes = await _store.Commands.ExecuteAll(
            PracticeStore.Context(Practice, "", June),
            horse,
            [
                Enter("first", new Weighed(visit, _yard.NewEntry(), 510, June, Guid.Empty)),
                Enter("second", Faulty("a tracing whose measures come out as no numbers", visit)),
                Enter("third", new Weighed(visit, _yard.NewEntry(), 520, June, Guid.Empty)),
            ],
            CancellationToken.None
        );

        Assert.Equal([null, "not-computable", null], outcomes.Select(o => o.Refused?.Code));
        await _store.CatchUp();
        var record = (await _store.Horses.Visit(Practice, horse, visit, CancellationToken.None))!;
        Assert.Equal([510.0, 520.0], record.Standing().Select(m => m.Value!.Value));
    }

    [Fact]
    public async Task What_an_older_release_recorded_and_nobody_can_measure_moves_along_when_its_horse_is_merged()
    {
        var (stays, twice) = (await _yard.Horse(June, "Bramble"), await _yard.Horse(June, "Brambel"));
        var visit = await _yard.Visit(twice, June, 44, 46);
        await using (var session = _store.Store.LightweightSession(Practice))
        {
            session.Events.Append(twice, Faulty("a tracing whose measures come out as no numbers", visit));
            await session.SaveChangesAsync();
        }

        await _yard.Do<Horse>(twice, June, h => HorseDecider.Decide(h, new MergeAway(stays, "twice", Guid.Empty), IntoOf(stays), June));
        var history = await History(twice);
        await _yard.Do<Horse>(stays, June, h => HorseDecider.Decide(h, new TakeIn(twice, "twice", Guid.Empty), history, June));

        await _store.CatchUp();
        var record = Assert.Single((await _store.Horses.Visits(Practice, stays, CancellationToken.None))!, v => v.Id == visit);
        Assert.True(record.NotWhole);
        Assert.Contains(record.Standing(), m => m.Key == "slope-left" && Math.Abs(m.Value!.Value - 44) < 0.5);
    }

    [Fact]
    public void Every_kind_of_entry_has_its_bounds()
    {
        var kinds = typeof(IVisitEntryEvent)
            .Assembly.GetTypes()
            .Where(t => t.IsClass && t.IsAssignableTo(typeof(IVisitEntryEvent)))
            .ToList();
        Assert.True(kinds.Count >= 9);
        // A kind without bounds throws; what the sample's numbers are does not matter here.
        foreach (var kind in kinds)
            _ = PlausibleEntries.Problem((IVisitEntryEvent)Samples.Of(kind));
    }

    private static Horse IntoOf(Guid id) => new() { Id = id };

    private async Task<IReadOnlyList<object>> History(Guid horse)
    {
        await using var session = _store.Store.QuerySession(Practice);
        return [.. (await session.Events.FetchStreamAsync(horse)).Select(e => e.Data)];
    }

    private object Faulty(string fault, Guid visit) =>
        fault switch
        {
            "a tracing whose measures come out as no numbers" => new ToplineTraced(
                visit,
                _yard.NewEntry(),
                Backs.Topline(20).Points,
                null,
                Wild,
                false,
                1,
                June,
                Guid.Empty
            ),
            "a tracing without points, on which the computation breaks" => new CrossSectionTraced(
                visit,
                _yard.NewEntry(),
                "s",
                null!,
                null,
                null,
                null!,
                0,
                June,
                Guid.Empty
            ),
            "a weight that is no number" => new Weighed(visit, _yard.NewEntry(), double.NaN, June, Guid.Empty),
            "a station that holds NUL" => new ReadingTaken(visit, _yard.NewEntry(), "read-slope-left", "s\0", 44, "deg", June, Guid.Empty),
            _ => throw new ArgumentException(fault, nameof(fault)),
        };
}
