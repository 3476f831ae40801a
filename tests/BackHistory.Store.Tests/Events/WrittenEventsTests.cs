using BackHistory.History.Horses;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Rebuilds;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Events;

/// <summary>Where an append fails, the event library fills the numbers it took with rows that stand in no history. They break
/// nothing.</summary>
public sealed class WrittenEventsTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        await _store.Found(Practice, June);
        _yard = new TestYard(_store, Practice);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact(Timeout = 60_000)]
    public async Task Feed_archive_audit_and_rebuild_go_on_past_the_rows_that_a_failed_append_leaves()
    {
        var before = await _yard.Horse(June, "Bramble");
        await FailedAppend(before, await _yard.Horse(June, "Clover"));
        var after = await _yard.Horse(June.AddDays(1), "Thistle");
        // They are written a moment later, by the library itself.
        while (await Fillers() == 0)
            await Task.Delay(20, TestContext.Current.CancellationToken);

        await _store.CatchUp();
        var feed = new Changes(_store.Store, new Progress(_store.Whole));
        var (events, _, _) = await feed.After(Practice, 0, new ChangeFilter([], null), 1000, CancellationToken.None);
        Assert.Equal(3, events.Count(e => e.Type == "horse_registered"));
        Assert.Equal(after, events[^1].Stream);
        var archived = new List<Guid>();
        await foreach (var e in new ArchiveQueries(_store.Store).Events(Practice, null, CancellationToken.None))
            archived.Add(e.Stream);
        Assert.Contains(before, archived);
        Assert.Contains(after, archived);
        Assert.Contains(
            await new AuditBook(_store.Store).Changes(Practice, null, null, 100, CancellationToken.None),
            c => c.HorseId == after
        );
        var run = await new ShadowRebuild(_store.Store, _store.Whole, new PracticeDatabase(_store.Members)).Run(
            Practice,
            June.AddDays(2),
            _ => Task.CompletedTask,
            CancellationToken.None
        );
        Assert.True(run.Done == run.Horses, $"{run}");
    }

    /// <summary>Two who write to one stream at the same place, one of them to another stream too: the later one takes numbers and
    /// fails.</summary>
    private async Task FailedAppend(Guid one, Guid other)
    {
        await using var first = _store.Store.LightweightSession(Practice);
        await using var second = _store.Store.LightweightSession(Practice);
        (await second.Events.FetchForWriting<Horse>(one)).AppendOne(Corrected("late"));
        (await second.Events.FetchForWriting<Horse>(other)).AppendOne(Corrected("late"));
        (await first.Events.FetchForWriting<Horse>(other)).AppendOne(Corrected("in time"));
        await first.SaveChangesAsync(CancellationToken.None);
        await Assert.ThrowsAnyAsync<Exception>(() => second.SaveChangesAsync(CancellationToken.None));
    }

    private static HorseDetailsCorrected Corrected(string reason) => new("Bramble", null, null, null, null, null, reason, June, Guid.Empty);

    private async Task<long> Fillers()
    {
        await using var command = _store.Database.CreateCommand("select count(*) from history.mt_events where type = 'tombstone'");
        return (long)(await command.ExecuteScalarAsync())!;
    }
}
