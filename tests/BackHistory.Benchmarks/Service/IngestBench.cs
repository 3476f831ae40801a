using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.Store;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using NpgsqlTypes;

namespace BackHistory.Benchmarks.Service;

/// <summary>
/// Visits a second through HTTP with eight clients, against eight plain connections that insert the same bodies, one row and one
/// transaction a visit, into the same PostgreSQL with the same durability.
/// </summary>
static class IngestBench
{
    private const int Clients = 8,
        HorsesEach = 10,
        VisitsPerHorse = 10,
        WarmUp = 2;
    private const string Baseline = "plain Npgsql, the same bodies as jsonb, one row and one transaction a visit, fsync on";

    internal static async Task<IReadOnlyList<Figure>> Run()
    {
        await using var bench = await ServedBench.Start();
        var horses = await Horses(bench);
        await Post(bench, horses, Enumerable.Range(0, WarmUp));
        await Followed(bench);

        var watch = Stopwatch.StartNew();
        var visits = await Post(bench, horses, Enumerable.Range(WarmUp, VisitsPerHorse));
        var answered = visits / watch.Elapsed.TotalSeconds;
        await Followed(bench);
        var followed = visits / watch.Elapsed.TotalSeconds;

        var plain = await Insert(await bench.OtherDatabase("plain"), visits);
        return
        [
            new("ingest: visits a second, eight clients, answered with their measures", answered, Baseline, plain, "1/s"),
            new("ingest: visits a second, eight clients, until every read model has followed", followed, Baseline, plain, "1/s"),
        ];
    }

    private static async Task<Guid[][]> Horses(ServedBench bench)
    {
        using var client = bench.Host.Client(ServedBench.Practice);
        var horses = new Guid[Clients][];
        for (var c = 0; c < Clients; c++)
        {
            horses[c] = new Guid[HorsesEach];
            for (var h = 0; h < HorsesEach; h++)
                horses[c][h] = await Send(
                    client,
                    "/api/horses",
                    $$"""{"name":"Horse {{c}}-{{h}}","foaled":"2015-05-01","heightMm":1600}""",
                    $"horse-{c}-{h}",
                    "id"
                );
        }

        return horses;
    }

    private static async Task<int> Post(ServedBench bench, Guid[][] horses, IEnumerable<int> rounds)
    {
        var counts = await Task.WhenAll(
            horses.Select(
                (mine, c) =>
                    Task.Run(async () =>
                    {
                        using var client = bench.Host.Client(ServedBench.Practice);
                        var done = 0;
                        foreach (var round in rounds)
                        {
                            foreach (var (h, horse) in mine.Index())
                            {
                                await Send(client, $"/api/horses/{horse}/visits", Body(c, h, round), $"visit-{c}-{h}-{round}", "visitId");
                                done++;
                            }
                        }

                        return done;
                    })
            )
        );
        return counts.Sum();
    }

    private static async Task<Guid> Send(HttpClient client, string path, string body, string key, string id)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path)
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", key);
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        using var response = await client.SendAsync(request);
        var text = await response.Content.ReadAsStringAsync();
        if (!response.IsSuccessStatusCode)
            throw new InvalidOperationException($"{path}: {response.StatusCode} {text}");
        return JsonDocument.Parse(text).RootElement.GetProperty(id).GetGuid();
    }

    private static async Task Followed(ServedBench bench)
    {
        var progress = bench.Host.Services.GetRequiredService<Progress>();
        if (
            !await progress.Wait(
                await progress.Last(CancellationToken.None),
                TimeSpan.FromMinutes(10),
                TimeProvider.System,
                CancellationToken.None
            )
        )
            throw new InvalidOperationException("the read models did not follow within ten minutes");
    }

    private static async Task<double> Insert(string database, int visits)
    {
        await using var source = NpgsqlDataSource.Create(database);
        await using (var create = source.CreateCommand("create table visits (id uuid primary key, body jsonb not null)"))
            await create.ExecuteNonQueryAsync();
        await Round(WarmUp);
        var watch = Stopwatch.StartNew();
        await Round(visits / Clients);
        return visits / watch.Elapsed.TotalSeconds;

        Task Round(int each) =>
            Task.WhenAll(
                Enumerable
                    .Range(0, Clients)
                    .Select(c =>
                        Task.Run(async () =>
                        {
                            await using var connection = await source.OpenConnectionAsync();
                            for (var i = 0; i < each; i++)
                            {
                                await using var insert = new NpgsqlCommand("insert into visits values ($1, $2)", connection);
                                insert.Parameters.Add(new() { Value = Guid.CreateVersion7() });
                                insert.Parameters.Add(
                                    new() { Value = Body(c, i % HorsesEach, i / HorsesEach), NpgsqlDbType = NpgsqlDbType.Jsonb }
                                );
                                await insert.ExecuteNonQueryAsync();
                            }
                        })
                    )
            );
    }

    /// <summary>A visit as a fitter takes it: four cross-sections and the topline, two readings, condition and weight; about 12
    /// kB.</summary>
    private static string Body(int client, int horse, int round)
    {
        var random = new Random(client * 10_000 + horse * 100 + round);
        var slope = 38 + 8 * random.NextDouble();
        object Section(string station, double steeper)
        {
            var points = Backs.Section(slope + steeper, slope + steeper + 1).Points;
            return new
            {
                kind = "cross-section",
                station,
                unit = "mm",
                yAxis = "up",
                noise = 0.5,
                points = points.Select(p => Pen(p.X, p.Y)),
            };
        }

        double[] Pen(double x, double y) => [Math.Round(x + 0.3 * random.NextDouble(), 2), Math.Round(y + 0.3 * random.NextDouble(), 2)];
        var topline = Backs.Topline(20 + 10 * random.NextDouble());
        return JsonSerializer.Serialize(
            new
            {
                takenAt = new DateTimeOffset(2023, 1, 1, 9, 0, 0, TimeSpan.Zero)
                    .AddDays(round * 60 + horse)
                    .ToString("O", CultureInfo.InvariantCulture),
                method = "flexible-curve",
                entries = new[]
                {
                    Section("shoulder", 5),
                    Section("behind-shoulder", 0),
                    Section("mid-back", -6),
                    Section("last-rib", -10),
                    new
                    {
                        kind = "topline",
                        unit = "mm",
                        yAxis = "up",
                        tail = "right",
                        noise = 0.5,
                        points = topline.Points.Select(p => Pen(p.X, p.Y)),
                        marks = topline.Marks.ToDictionary(m => m.Key, m => new[] { m.Value.X, m.Value.Y }, StringComparer.Ordinal),
                    },
                    new
                    {
                        kind = "reading",
                        measure = "read-slope-left",
                        station = "behind-shoulder",
                        value = Math.Round(slope),
                    },
                    new
                    {
                        kind = "reading",
                        measure = "read-slope-right",
                        station = "behind-shoulder",
                        value = Math.Round(slope + 1),
                    },
                    new { kind = "condition", score = 5.5 },
                    new
                    {
                        kind = "weight",
                        value = 540 + random.Next(40),
                        unit = "kg",
                    },
                },
            }
        );
    }
}
