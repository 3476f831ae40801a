using System.Diagnostics;
using System.Text.Json;
using BackHistory.Store.Events;
using BackHistory.Testing;

namespace BackHistory.Benchmarks.History;

/// <summary>
/// Every read model that people read, deleted and rebuilt from the whole history, against reading and deserialising the same rows once;
/// at one, two and four times the events. <c>ops/bench rebuild events=1000000</c> for a million.
/// </summary>
static class RebuildBench
{
    private const string Baseline = "plain Npgsql: reading and deserialising the same rows once";
    private static readonly string[] ReadModels = ["VisitRecord", "HorseProfile", "Timeline", "PracticeMonth"];

    internal static async Task<IReadOnlyList<Figure>> Run(int events)
    {
        var figures = new List<Figure>();
        await using var bench = await StoreBench.Start();
        var (practices, seconds) = (0, new List<double>());
        foreach (var times in new[] { 1, 2, 4 })
        {
            for (; practices < times; practices++)
                await Grow(bench.Store, $"bench-{practices}", events / 4);
            var count = await Count(bench.Store);
            var read = await Seconds(() => Read(bench.Store));
            var rebuild = 0.0;
            foreach (var model in ReadModels)
                rebuild += await Seconds(() => bench.Store.Rebuild(model));
            seconds.Add(rebuild);
            figures.Add(new($"rebuild: events a second, all read models, {count} events", count / rebuild, Baseline, count / read, "1/s"));
        }

        figures.Add(new("rebuild: time for four times the events over the time for them once", seconds[2] / seconds[0], "linear", 4, "×"));
        return figures;
    }

    /// <summary>Beside the deciders: what is measured is what follows from events, not how they came.</summary>
    private static async Task Grow(PracticeStore store, string practice, int events)
    {
        var horses = Math.Max(1, events / (InventedEvents.VisitsPerHorse * InventedEvents.EventsPerVisit + 1));
        await Parallel.ForEachAsync(
            Enumerable.Range(0, horses),
            new ParallelOptions { MaxDegreeOfParallelism = 4 },
            async (horse, ct) =>
            {
                await using var session = store.Store.LightweightSession(practice);
                session.Events.StartStream<BackHistory.History.Horses.Horse>(
                    InventedEvents.HorseId(practice, horse),
                    InventedEvents.Events(practice, horse, InventedEvents.VisitsPerHorse)
                );
                await session.SaveChangesAsync(ct);
            }
        );
    }

    private static async Task<long> Count(PracticeStore store)
    {
        await using var count = store.Database.CreateCommand("select count(*) from history.mt_events");
        return (long)(await count.ExecuteScalarAsync())!;
    }

    private static async Task Read(PracticeStore store)
    {
        var types = EventAliases.All.ToDictionary(a => a.Value, a => a.Key, StringComparer.Ordinal);
        var json = StoredJson.Options();
        await using var command = store.Database.CreateCommand("select type, data from history.mt_events order by seq_id");
        await using var reader = await command.ExecuteReaderAsync();
        while (await reader.ReadAsync())
            JsonSerializer.Deserialize(reader.GetFieldValue<byte[]>(1), types[reader.GetString(0)], json);
    }

    private static async Task<double> Seconds(Func<Task> work)
    {
        var watch = Stopwatch.StartNew();
        await work();
        return watch.Elapsed.TotalSeconds;
    }
}
