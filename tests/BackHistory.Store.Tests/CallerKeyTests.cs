using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Testing;

namespace BackHistory.Store.Tests;

/// <summary>Receipts stand under whose they are: whatever somebody sends as a key, it meets nobody else's receipt.</summary>
public sealed class CallerKeyTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private static readonly Guid One = DeterministicId.From("one");
    private static readonly Guid Two = DeterministicId.From("two");
    private PracticeStore _store = null!;
    private Guid _horse;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        await _store.Found(Practice, June);
        _horse = await new TestYard(_store, Practice).Horse(June);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_key_that_spells_out_another_persons_key_is_not_theirs()
    {
        Assert.False((await Weigh(CallerKey.KeyFor(One, "k"), 500)).Repeated);
        Assert.False((await Weigh(CallerKey.KeyFor(Two, $"{One:N}/k"), 500)).Repeated);
        Assert.False((await Weigh(CallerKey.KeyFor(Two, $"{Two:N}/{One:N}/k"), 500)).Repeated);
        Assert.True((await Weigh(CallerKey.KeyFor(One, "k"), 500)).Repeated);
        Assert.Equal(3, (await _store.Horses.Load(Practice, _horse, CancellationToken.None))!.Visits.Count);
    }

    [Theory]
    [InlineData("comment:")]
    [InlineData("bind:")]
    [InlineData("answer:")]
    [InlineData("merge:")]
    [InlineData("taken back:")]
    [InlineData("import:")]
    [InlineData("evaluation:RaiseStep:")]
    [InlineData("letter-sent:")]
    [InlineData("bulletin:")]
    [InlineData("found:")]
    [InlineData("plan:")]
    [InlineData("form:")]
    public async Task A_key_of_a_link_a_grant_a_job_or_an_import_is_met_by_none_that_a_person_sends_nor_meets_theirs(string words)
    {
        var key = words + DeterministicId.From(words);
        // The service's own first, and a person's after it; then the other way round.
        Assert.False((await Weigh(key, 500, "")).Repeated);
        Assert.False((await Weigh(CallerKey.KeyFor(One, key), 500)).Repeated);
        Assert.False((await Weigh(CallerKey.KeyFor(One, key + "2"), 500)).Repeated);
        Assert.False((await Weigh(key + "2", 500, "")).Repeated);
        Assert.False((await Weigh(CallerKey.KeyFor(Two, key + "2"), 500, "")).Repeated);
        Assert.Equal(5, (await _store.Horses.Load(Practice, _horse, CancellationToken.None))!.Visits.Count);
    }

    private Task<Outcome> Weigh(string key, double kilograms, string fingerprint = "the same") =>
        _store.Commands.Execute<Horse>(
            PracticeStore.Context(Practice, key, June, fingerprint: fingerprint),
            _horse,
            h =>
            {
                var visit = Guid.CreateVersion7();
                var weight = new WeightEntry(Guid.CreateVersion7(), kilograms);
                return HorseDecider.Decide(h, new RecordVisit(visit, June, One, new VisitConditions(), "tape", 1, [weight]), June);
            },
            CancellationToken.None
        );
}
