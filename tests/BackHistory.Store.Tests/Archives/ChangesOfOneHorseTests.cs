using BackHistory.History.Saddles;
using BackHistory.Store.Archives;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Archives;

/// <summary>The feed of one horse rests on what happened, not on a read model that may be behind.</summary>
public sealed class ChangesOfOneHorseTests : IAsyncLifetime
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

    [Fact]
    public async Task A_saddle_that_is_set_while_the_read_models_stand_still_is_in_the_feed_of_its_horse()
    {
        var (bramble, thistle) = (await _yard.Horse(June, "Bramble"), await _yard.Horse(June, "Thistle"));
        var saddle = await _yard.Saddle(June);
        // No daemon runs: nothing followed, and yet it is known that no earlier number is open any more.
        await _yard.Set(saddle, bramble, null, June.AddDays(1));
        await _yard.Set(await _yard.Saddle(June, "18"), thistle, null, June.AddDays(1));
        await Settled();
        var feed = new Changes(_store.Store, new Progress(_store.Whole));

        var (events, next, more) = await feed.After(Practice, 0, new ChangeFilter([], bramble), 100, CancellationToken.None);

        Assert.Equal(["horse_registered", "saddle_set"], events.Select(e => e.Type).Where(t => t != "saddle_registered"));
        Assert.Equal([bramble, saddle], events.Select(e => e.Stream).Distinct());
        Assert.False(more);
        // Moved on, the saddle is the other horse's too.
        await _yard.Do<Saddle>(
            saddle,
            June.AddDays(2),
            s =>
                SaddleDecider.Decide(
                    s,
                    new MoveSaddle(bramble, thistle, "Sold.", June.AddDays(2), Guid.Empty),
                    _store.Horses.Load(Practice, thistle, CancellationToken.None).GetAwaiter().GetResult(),
                    June.AddDays(2)
                )
        );
        await Settled();
        Assert.Equal(
            ["saddle_moved"],
            (await feed.After(Practice, next, new ChangeFilter([], bramble), 100, CancellationToken.None)).Events.Select(e => e.Type)
        );
        Assert.Equal(
            ["saddle_moved"],
            (await feed.After(Practice, next, new ChangeFilter([], thistle), 100, CancellationToken.None)).Events.Select(e => e.Type)
        );
    }

    [Fact]
    public async Task Page_by_page_the_feed_of_one_horse_is_what_the_whole_feed_says_of_it()
    {
        var horses = new List<Guid>();
        for (var n = 0; n < 4; n++)
            horses.Add(await _yard.Horse(June, $"Horse {n}"));
        var saddles = new List<Guid>();
        for (var n = 0; n < 3; n++)
            saddles.Add(await _yard.Saddle(June, $"Saddle {n}"));
        var chance = new Random(7);
        for (var n = 0; n < 40; n++)
            await _yard.Set(saddles[chance.Next(3)], horses[chance.Next(4)], null, June.AddHours(n));
        await Settled();
        var feed = new Changes(_store.Store, new Progress(_store.Whole));
        var all = (await feed.After(Practice, 0, new ChangeFilter([], null), 1000, CancellationToken.None)).Events;
        foreach (var horse in horses)
        {
            var (paged, at, more) = (new List<Guid>(), 0L, true);
            while (more)
            {
                (var some, at, more) = await feed.After(Practice, at, new ChangeFilter([], horse), 3, CancellationToken.None);
                paged.AddRange(some.Select(e => e.Id));
            }

            var expected = all.Where(e => e.Stream == horse || e.Data.GetRawText().Contains(horse.ToString(), StringComparison.Ordinal));
            Assert.Equal(expected.Select(e => e.Id), paged);
        }
    }

    /// <summary>What the daemon does first when it runs: it learns up to where no event can appear any more.</summary>
    private async Task Settled()
    {
        await using var mark = _store.Database.CreateCommand(
            """
            insert into history.mt_event_progression (name, last_seq_id, last_updated)
            select 'HighWaterMark', max(seq_id), now() from history.mt_events
            on conflict (name) do update set last_seq_id = excluded.last_seq_id
            """
        );
        await mark.ExecuteNonQueryAsync();
    }
}
