using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Store.Events;
using BackHistory.Store.Projections;
using CsCheck;
using JasperFx.Events;

namespace BackHistory.History.Tests;

/// <summary>Commands in any order: what is refused changes nothing, what is accepted keeps the history whole.</summary>
public sealed class RandomHistoryTests
{
    private const string Replayed = "BACKHISTORY_REPLAYED";
    private static readonly DateTimeOffset Start = new(2024, 1, 1, 9, 0, 0, TimeSpan.Zero);
    private static readonly JsonSerializerOptions Json = StoredJson.Options();
    private static readonly Gen<(int What, int Visit, int Entry, int Day)> Step = Gen.Select(
        Gen.Int[0, 13],
        Gen.Int[0, 3],
        Gen.Int[0, 5],
        Gen.Int[-60, 400]
    );

    [Fact]
    public void Commands_in_any_order_keep_what_stands_what_was_withdrawn_and_the_version_of_the_stream() =>
        Step.List[1, 60]
            .Sample(
                steps =>
                {
                    var history = Play(steps);
                    Horse? state = null;
                    var withdrawn = new HashSet<Guid>();
                    foreach (var e in history)
                    {
                        state = Horse.After(state, e)!;
                        if (e is VisitWithdrawn or VisitMerged)
                            withdrawn.Add(((IVisitEvent)e).VisitId);
                        // A visit that was withdrawn takes nothing more and never stands again.
                        Assert.All(withdrawn, v => Assert.True(state.Visits[v].Withdrawn));
                        if (e is IVisitEntryEvent entered)
                            Assert.DoesNotContain(entered.VisitId, withdrawn);
                    }

                    if (state is null)
                        return;
                    Assert.IsType<HorseRegistered>(history[0]);
                    Assert.Single(history.OfType<HorseRegistered>());
                    // What stands is what was entered and neither corrected nor withdrawn.
                    var gone = history
                        .OfType<EntryCorrected>()
                        .Select(e => e.EntryId)
                        .Concat(history.OfType<EntryWithdrawn>().Select(e => e.EntryId))
                        .ToHashSet();
                    foreach (var (id, visit) in state.Visits)
                        Assert.Equal(
                            history
                                .OfType<IVisitEntryEvent>()
                                .Where(e => e.VisitId == id && !gone.Contains(e.EntryId))
                                .Select(e => e.EntryId)
                                .Order(),
                            visit.Entries.Where(x => x.Value).Select(x => x.Key).Order()
                        );
                },
                iter: 500,
                print: p => string.Join(' ', p)
            );

    [Fact]
    public void A_history_read_back_from_its_bytes_in_another_culture_gives_the_same_hash() =>
        Step.List[1, 60]
            .Sample(
                steps =>
                {
                    var history = Play(steps);
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
        var history = Play([
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

    [Fact]
    public void A_second_registration_taken_in_adds_exactly_what_stood_of_it() =>
        Gen.Select(Step.List[1, 30], Step.List[1, 30])
            .Sample(
                (one, two) =>
                {
                    var (stays, twice) = (Play(one, seed: 1), Play(two, seed: 2));
                    if (stays.Count == 0 || twice.Count == 0)
                        return;
                    var (a, b) = (Fold(stays), Fold(twice));
                    var merged = HorseDecider.Decide(a, new TakeIn(b.Id, "One horse.", Guid.Empty), twice, Start.AddYears(3));
                    if (merged.Refused is not null)
                    {
                        Assert.True(a.Withdrawn);
                        return;
                    }

                    var after = merged.Events.Aggregate(a, (s, e) => Horse.After(s, e)!);
                    var standing = b.Visits.Where(v => !v.Value.Withdrawn).ToList();
                    Assert.Equal(a.Visits.Keys.Concat(standing.Select(v => v.Key)).Order(), after.Visits.Keys);
                    foreach (var (id, visit) in standing)
                    {
                        Assert.Equal(visit.TakenAt, after.Visits[id].TakenAt);
                        Assert.Equal(
                            visit.Entries.Where(e => e.Value).Select(e => e.Key).Order(),
                            after.Visits[id].Entries.Where(e => e.Value).Select(e => e.Key).Order()
                        );
                    }

                    Assert.Equal(
                        b.Noted.Count(n => n.Value.Stands),
                        after.Noted.Count(n => n.Value.Stands) - a.Noted.Count(n => n.Value.Stands)
                    );
                    // Taken in once, it is in: again nothing follows.
                    Assert.Empty(HorseDecider.Decide(after, new TakeIn(b.Id, "One horse.", Guid.Empty), twice, Start.AddYears(3)).Events);
                },
                iter: 300
            );

    /// <summary>Gives the commands as hands in a hurry would: many are refused.</summary>
    private static List<object> Play(IReadOnlyList<(int What, int Visit, int Entry, int Day)> steps, int seed = 0)
    {
        var (history, now) = (new List<object>(), Start);
        Horse? horse = null;
        foreach (var (n, (what, visit, entry, day)) in steps.Index())
        {
            now = now.AddDays(1);
            var decided = Decide(
                horse,
                history,
                what,
                Id(seed, "visit", visit),
                Id(seed, "entry", visit * 10 + entry),
                Id(seed, "new", n),
                day,
                now,
                seed
            );
            Assert.True(decided.Refused is null || decided.Events.Count == 0, "what is refused changes nothing");
            foreach (var e in decided.Events)
            {
                horse = Horse.After(horse, e);
                history.Add(e);
            }
        }

        return history;
    }

    private static Decided Decide(
        Horse? h,
        IReadOnlyList<object> history,
        int what,
        Guid visit,
        Guid entry,
        Guid fresh,
        int day,
        DateTimeOffset now,
        int seed
    )
    {
        var (by, taken) = (Guid.Empty, Start.AddDays(day));
        VisitEntry weight = new WeightEntry(entry, 400 + day / 10.0);
        return what switch
        {
            0 or 1 => HorseDecider.Decide(
                h,
                new RegisterHorse(
                    Id(seed, "horse", 0),
                    new HorseDetails("Random", null, new DateOnly(2023, 12, 1), null, null, null),
                    null,
                    null,
                    now,
                    by
                ),
                now
            ),
            2 or 3 => HorseDecider.Decide(
                h,
                new RecordVisit(
                    visit,
                    taken,
                    by,
                    new VisitConditions(),
                    "flexible-curve",
                    1,
                    day % 3 == 0 ? [] : [weight, new ConditionEntry(fresh, 5.5)]
                ),
                now
            ),
            4 or 5 => HorseDecider.Decide(h, new AddEntries(visit, [weight], by), now),
            6 => HorseDecider.Decide(
                h,
                new CorrectEntry(visit, entry, new WeightEntry(fresh, 500), day % 5 == 0 ? "" : "Typed wrongly.", by),
                now
            ),
            7 => HorseDecider.Decide(h, new WithdrawEntry(visit, entry, "Another horse.", by), now),
            8 => HorseDecider.Decide(h, new WithdrawVisit(visit, "Another horse.", by), now),
            9 => HorseDecider.Decide(
                h,
                new CorrectVisit(visit, taken, by, new VisitConditions(StoodSquare: false), "inclinometer", "Wrong day.", by),
                now
            ),
            10 => HorseDecider.Decide(h, new MergeVisit(visit, Id(seed, "visit", Math.Abs(day) % 4), "Entered twice.", by), history, now),
            11 => HorseDecider.Decide(h, new NoteCare(fresh, CareKind.LayOff, DateOnly.FromDateTime(taken.UtcDateTime), null, by), now),
            12 => HorseDecider.Decide(h, new ChangeWork(fresh, WorkLoad.Light, null, null, taken, by), now),
            _ => day < -50
                ? HorseDecider.Decide(h, new WithdrawHorse("By mistake.", by), now)
                : HorseDecider.Decide(h, new ChangeYard(fresh, taken, by), now),
        };
    }

    private static Horse Fold(IReadOnlyList<object> history) => history.Aggregate((Horse?)null, (s, e) => Horse.After(s, e))!;

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
                Id(0, "event", n),
                Id(0, "horse", 0),
                n + 1,
                n + 1,
                Start.AddHours(n)
            );
            profile = HorseProfileProjection.Fold(profile, e.StreamId, e);
            if (data is IVisitEvent v)
                visits[v.VisitId] = VisitRecordProjection.Fold(visits.GetValueOrDefault(v.VisitId), e);
            text.AppendLine(JsonSerializer.Serialize(TimelineProjection.Of(e.Id, e), Json));
        }

        text.Append(JsonSerializer.Serialize(profile, Json)).Append(JsonSerializer.Serialize(visits, Json));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    private static Guid Id(int seed, string what, int number) =>
        DeterministicId.Of(what, seed.ToString(CultureInfo.InvariantCulture), number.ToString(CultureInfo.InvariantCulture));
}
