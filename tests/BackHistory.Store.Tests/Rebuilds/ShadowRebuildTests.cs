using BackHistory.Store.Horses;
using BackHistory.Store.Rebuilds;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Rebuilds;

/// <summary>What people read is built anew while they read it.</summary>
public sealed class ShadowRebuildTests : IAsyncLifetime
{
    private const string Practice = "p";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_rebuild_of_what_is_right_changes_nothing_and_of_what_was_spoiled_gives_the_same_bytes()
    {
        await Live(6);
        await _store.CatchUp();
        var before = await Bytes();
        Assert.Equal((0, 1), Of(await Rebuild()));

        await Execute("update history.mt_doc_visitrecord set data = jsonb_set(data, '{method}', '\"spoiled\"')");
        await Execute("update history.mt_doc_horseprofile set data = jsonb_set(data, '{name}', '\"spoiled\"'), name = 'spoiled'");
        await Execute(
            "delete from history.mt_doc_timelineentry where id in (select id from history.mt_doc_timelineentry order by id limit 5)"
        );
        await Execute("update history.mt_doc_practicemonth set data = jsonb_set(data, '{events,0,times}', '1000')");
        var run = await Rebuild();
        Assert.True(run.Changed > 15, $"{run.Changed} documents were put right");
        Assert.Equal(2, run.Passes);
        Assert.Equal(before, await Bytes());
    }

    [Fact]
    public async Task While_it_runs_and_hands_go_on_entering_no_reader_ever_misses_a_horse()
    {
        var horses = await Live(8);
        await _store.CatchUp();
        await Execute("update history.mt_doc_horseprofile set data = jsonb_set(data, '{name}', '\"spoiled\"')");
        using var done = new CancellationTokenSource();
        var (reads, missed) = (0, 0);
        var reader = Task.Run(async () =>
        {
            while (!done.IsCancellationRequested)
            {
                reads++;
                if ((await _store.Horses.ByName(Practice, null, 50, CancellationToken.None)).Count != horses.Count)
                    missed++;
            }
        });
        var writer = Task.Run(async () =>
        {
            for (var i = 0; i < 24; i++)
                await _yard.Visit(horses[i % horses.Count], June.AddDays(10 + i), 44, 45);
        });
        var run = await Rebuild();
        await writer;
        await done.CancelAsync();
        await reader;
        await _store.CatchUp();

        Assert.True(reads > 0);
        Assert.Equal(0, missed);
        Assert.True(run.Changed >= 8);
        Assert.Equal((0, 1), Of(await Rebuild()));
        Assert.All(await _store.Horses.ByName(Practice, null, 50, CancellationToken.None), h => Assert.Equal(5, h.Visits.Count));
    }

    private static (int, int) Of(RebuildRun run) => (run.Changed, run.Passes);

    private Task<RebuildRun> Rebuild() =>
        new ShadowRebuild(_store.Store, _store.Whole, new PracticeDatabase(_store.Members)).Run(
            Practice,
            June,
            _ => Task.CompletedTask,
            CancellationToken.None
        );

    private async Task<IReadOnlyList<Guid>> Live(int horses)
    {
        var ids = new List<Guid>();
        for (var i = 0; i < horses; i++)
        {
            var horse = await _yard.Horse(June.AddDays(-3), $"Horse {i}");
            var visit = await _yard.Visit(horse, June, 45, 45);
            var saddle = await _yard.Saddle(June, $"{i}");
            await _yard.Set(saddle, horse, visit, June.AddDays(1));
            ids.Add(horse);
        }

        // One that was registered twice, whose visit moved.
        var twice = await _yard.Horse(June, "Twice");
        await _yard.Visit(twice, June.AddDays(2), 44, 46);
        await new Merging(_store.Store, _store.Commands).Horses(
            PracticeStore.Context(Practice, "merge", June.AddDays(3)),
            twice,
            ids[0],
            "One horse.",
            CancellationToken.None
        );
        for (var i = 1; i < horses; i++)
            await _yard.Visit(ids[i], June.AddDays(3), 45, 45);
        return ids;
    }

    private async Task<IReadOnlyList<string>> Bytes()
    {
        var rows = new List<string>();
        foreach (var table in new[] { "horseprofile", "visitrecord", "timelineentry", "practicemonth" })
        {
            await using var command = _store.Database.CreateCommand(
                $"select id::text || data::text from history.mt_doc_{table} order by id"
            );
            await using var reader = await command.ExecuteReaderAsync();
            while (await reader.ReadAsync())
                rows.Add(reader.GetString(0));
        }

        return rows;
    }

    private async Task Execute(string sql)
    {
        await using var command = _store.Database.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
