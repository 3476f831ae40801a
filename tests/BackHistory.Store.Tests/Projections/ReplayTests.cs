using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Store.Events;
using BackHistory.Store.Projections;
using BackHistory.Testing;
using CsCheck;
using JasperFx.Events;

namespace BackHistory.Store.Tests.Projections;

/// <summary>What follows from a history does not depend on where and when it is read.</summary>
public sealed class ReplayTests
{
    private const string Replayed = "BACKHISTORY_REPLAYED";
    private static readonly JsonSerializerOptions Json = StoredJson.Options();
    private static readonly Gen<(int What, int Visit, int Entry, int Day)> Step = Gen.Select(
        Gen.Int[0, 13],
        Gen.Int[0, 3],
        Gen.Int[0, 5],
        Gen.Int[-60, 400]
    );

    [Fact]
    public void A_history_read_back_from_its_bytes_in_another_culture_gives_the_same_hash() =>
        Step.List[1, 60]
            .Sample(
                steps =>
                {
                    var history = RandomHistory.Play(steps);
                    var here = HashOf(history);
                    var culture = CultureInfo.CurrentCulture;
                    try
                    {
                        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("tr-TR");
                        var back = history
                            .Select(e => JsonSerializer.Deserialize(JsonSerializer.Serialize(e, e.GetType(), Json), e.GetType(), Json)!)
                            .ToList();
                        Assert.Equal(here, HashOf(back));
                    }
                    finally
                    {
                        CultureInfo.CurrentCulture = culture;
                    }
                },
                iter: 200,
                print: p => string.Join(' ', p)
            );

    /// <summary>This program is started again far away, with nothing but the stored bytes.</summary>
    [Fact]
    public async Task A_history_replayed_by_another_process_in_another_time_zone_gives_the_same_hash()
    {
        if (Environment.GetEnvironmentVariable(Replayed) is { } folder)
        {
            var read = (await File.ReadAllLinesAsync(Path.Combine(folder, "events")))
                .Select(l => l.Split('\t', 2))
                .Select(l => JsonSerializer.Deserialize(l[1], typeof(Horse).Assembly.GetType(l[0], throwOnError: true)!, Json)!)
                .ToList();
            await File.WriteAllTextAsync(
                Path.Combine(folder, "hash"),
                $"{TimeZoneInfo.Local.BaseUtcOffset.TotalHours} {CultureInfo.CurrentCulture.Name} {HashOf(read)}"
            );
            return;
        }

        var chance = new Random(17);
        var history = RandomHistory.Play([
            (0, 0, 0, 0),
            .. Enumerable.Range(0, 400).Select(_ => (chance.Next(14), chance.Next(4), chance.Next(6), chance.Next(-50, 400))),
        ]);
        Assert.True(history.Count > 50, $"only {history.Count} events");
        Assert.True(history.Select(e => e.GetType()).Distinct().Count() > 8);
        var state = Directory.CreateTempSubdirectory("backhistory-replay-");
        await File.WriteAllLinesAsync(
            Path.Combine(state.FullName, "events"),
            history.Select(e => $"{e.GetType().FullName}\t{JsonSerializer.Serialize(e, e.GetType(), Json)}")
        );
        var start = new ProcessStartInfo(
            Environment.ProcessPath!,
            [
                "--filter-method",
                $"*{nameof(A_history_replayed_by_another_process_in_another_time_zone_gives_the_same_hash)}",
                "--progress",
                "off",
            ]
        )
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            Environment =
            {
                [Replayed] = state.FullName,
                ["TZ"] = "Pacific/Kiritimati",
                ["LC_ALL"] = "ar-SA",
            },
        };
        using var process = Process.Start(start)!;
        var said = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, said);
        var told = await File.ReadAllTextAsync(Path.Combine(state.FullName, "hash"));
        state.Delete(recursive: true);
        // Fourteen hours ahead of Greenwich, and read as there.
        Assert.Equal($"14 ar-SA {HashOf(history)}", told);
    }

    /// <summary>Of every read model that follows from the history.</summary>
    private static string HashOf(IReadOnlyList<object> history)
    {
        var text = new StringBuilder();
        HorseProfile? profile = null;
        var visits = new SortedDictionary<Guid, VisitRecord?>();
        foreach (var (n, data) in history.Index())
        {
            var e = (IEvent)Activator.CreateInstance(typeof(Event<>).MakeGenericType(data.GetType()), data)!;
            (e.Id, e.StreamId, e.Version, e.Sequence, e.Timestamp) = (
                RandomHistory.Id(0, "event", n),
                RandomHistory.Id(0, "horse", 0),
                n + 1,
                n + 1,
                RandomHistory.Start.AddHours(n)
            );
            profile = HorseProfileProjection.Fold(profile, e.StreamId, e);
            if (data is IVisitEvent v)
                visits[v.VisitId] = VisitRecordProjection.Fold(visits.GetValueOrDefault(v.VisitId), e);
            text.AppendLine(JsonSerializer.Serialize(TimelineProjection.Of(e.Id, e), Json));
        }

        text.Append(JsonSerializer.Serialize(profile, Json)).Append(JsonSerializer.Serialize(visits, Json));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
