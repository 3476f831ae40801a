using System.Diagnostics;
using BackHistory.History.Horses;
using BackHistory.Store;
using BackHistory.Store.Events;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using JasperFx.Events;
using Marten;
using Marten.Events;
using Npgsql;
using NpgsqlTypes;

namespace BackHistory.Benchmarks.History;

/// <summary>
/// Old histories brought in, through the deciders: many commands on one stream in one transaction, each decided, receipted and folded
/// into the state that decisions need. Beside it Marten's own bulk insert of the same events, which decides and folds nothing, and a
/// binary COPY of the same bytes.
/// </summary>
static class ImportBench
{
    private const string Practice = "bench";
    private const int AtOnce = 4,
        Horses = 60;

    internal static async Task<IReadOnlyList<Figure>> Run()
    {
        await using var bench = await StoreBench.Start();
        var visits = Horses * InventedEvents.VisitsPerHorse;
        foreach (var practice in new[] { "warm", Practice })
            await bench.Store.Get<PracticeQueries>().Save(practice, [InventedEvents.Fitter], CancellationToken.None);
        await Enter(bench.Store, "warm", 4);
        var ours = await PerSecond(visits, () => Enter(bench.Store, Practice, Horses));
        var streams = Enumerable.Range(0, Horses).Select(h => InventedEvents.Events("bulk", h, InventedEvents.VisitsPerHorse)).ToList();
        var marten = await PerSecond(visits, () => Bulk(bench.Store, streams));
        var json = StoredJson.Options();
        var rows = streams
            .SelectMany(s => s.Select(e => (EventAliases.AliasOf(e), System.Text.Json.JsonSerializer.Serialize(e, e.GetType(), json))))
            .ToList();
        var copy = await PerSecond(visits, () => Copy(bench.Store, rows));
        return
        [
            new(
                "import: visits a second through the deciders, six events a visit",
                ours,
                "Marten bulk insert of the same events, nothing decided or folded",
                marten,
                "1/s"
            ),
            new(
                "import: visits a second through the deciders, six events a visit",
                ours,
                "binary COPY of the same bytes into a plain table",
                copy,
                "1/s"
            ),
        ];
    }

    private static Task Enter(PracticeStore store, string practice, int horses) =>
        Parallel.ForEachAsync(
            Enumerable.Range(0, horses),
            new ParallelOptions { MaxDegreeOfParallelism = AtOnce },
            async (horse, ct) =>
            {
                var id = InventedEvents.HorseId(practice, horse);
                List<OneOfMany<Horse>> commands =
                [
                    new($"register {id}", "", h => HorseDecider.Decide(h, InventedEvents.Register(practice, horse), InventedEvents.At(0))),
                ];
                for (var v = 0; v < InventedEvents.VisitsPerHorse; v++)
                {
                    var visit = InventedEvents.Visit(practice, horse, v);
                    commands.Add(
                        new(
                            $"visit {visit.VisitId}",
                            "",
                            h => HorseDecider.Decide(h, visit, InventedEvents.At(InventedEvents.VisitsPerHorse))
                        )
                    );
                }

                var outcomes = await store.Commands.ExecuteAll(
                    PracticeStore.Context(practice, "bench", InventedEvents.At(InventedEvents.VisitsPerHorse)),
                    id,
                    commands,
                    ct
                );
                if (outcomes.FirstOrDefault(o => o.Refused is not null) is { } refused)
                    throw new InvalidOperationException(refused.Refused!.Message);
            }
        );

    private static Task Bulk(PracticeStore store, IReadOnlyList<IReadOnlyList<object>> streams)
    {
        var graph = (EventGraph)((StoreOptions)store.Whole.Options).Events;
        var actions = streams
            .Select(
                (events, horse) =>
                {
                    var action = StreamAction.Start(graph, InventedEvents.HorseId("bulk", horse), [.. events]);
                    action.AggregateType = typeof(Horse);
                    return action;
                }
            )
            .ToList();
        return store.Whole.BulkInsertEventsAsync("bulk", actions, 1000, CancellationToken.None);
    }

    private static async Task Copy(PracticeStore store, IReadOnlyList<(string Type, string Json)> rows)
    {
        await using var connection = await store.Database.OpenConnectionAsync();
        await using (
            var create = new NpgsqlCommand(
                "create table plain_events (id uuid primary key, type varchar not null, data jsonb not null)",
                connection
            )
        )
            await create.ExecuteNonQueryAsync();
        await using var writer = await connection.BeginBinaryImportAsync("copy plain_events from stdin (format binary)");
        foreach (var (type, text) in rows)
        {
            await writer.StartRowAsync();
            await writer.WriteAsync(Guid.CreateVersion7(), NpgsqlDbType.Uuid);
            await writer.WriteAsync(type, NpgsqlDbType.Varchar);
            await writer.WriteAsync(text, NpgsqlDbType.Jsonb);
        }

        await writer.CompleteAsync();
    }

    private static async Task<double> PerSecond(int visits, Func<Task> work)
    {
        var watch = Stopwatch.StartNew();
        await work();
        return visits / watch.Elapsed.TotalSeconds;
    }
}
