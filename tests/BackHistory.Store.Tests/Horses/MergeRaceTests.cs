using System.Collections.Concurrent;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Horses;
using BackHistory.Store.Sharing;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Horses;

/// <summary>Merges, withdrawals, visits, saddles and links that come at the same moment, in whatever order the database lets them
/// through.</summary>
public sealed class MergeRaceTests : IAsyncLifetime
{
    private const int Rounds = 50;
    private static readonly DateTimeOffset March = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Of_two_horses_that_are_merged_into_each_other_at_once_one_stays_and_holds_both_histories()
    {
        for (var round = 0; round < 12; round++)
        {
            var practice = $"crosswise-{round}";
            var yard = new TestYard(_store, practice);
            var (one, other) = (await yard.Horse(March, "Bramble"), await yard.Horse(March, "Brambel"));
            var visits = new[] { await yard.Visit(one, March, Weight(yard)), await yard.Visit(other, March, Weight(yard)) };
            var outcomes = await Task.WhenAll(
                Task.Run(() => Merge(practice, "a", one, other)),
                Task.Run(() => Merge(practice, "b", other, one))
            );

            Assert.Equal("horse-merged", Assert.Single(outcomes, o => o.Refused is not null).Refused!.Code);
            var stays = Assert.Single(new[] { await Load(practice, one), await Load(practice, other) }, h => h.MergedInto is null);
            Assert.Equal(stays.Id, Assert.Single(outcomes, o => o.Refused is null).StreamId);
            Assert.Equal(visits.Order(), stays.Visits.Keys);
        }
    }

    [Fact]
    public async Task However_merges_withdrawals_and_visits_interleave_each_horse_ends_in_one_living_history_and_no_visit_is_lost()
    {
        var met = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);
        var kept = new List<(string Practice, Guid Visit, Guid Horse)>();
        for (var seed = 0; seed < Rounds; seed++)
        {
            var round = new Round(_store, seed, met);
            await round.Play();
            kept.AddRange(await round.Check());
        }

        // What people read follows: every visit that stands is found at the horse in which its history went on.
        await _store.CatchUp();
        foreach (var (practice, visit, horse) in kept)
            Assert.False((await _store.Horses.Visit(practice, horse, visit, CancellationToken.None))!.Withdrawn);
        // The rounds met what they are there for: merges that went through and that came too late, and withdrawals of both kinds.
        foreach (
            var (what, least) in new[]
            {
                ("merge done", 40),
                ("merge refused", 40),
                ("visit done", 20),
                ("visit refused", 1),
                ("withdraw visit done", 5),
                ("withdraw horse done", 5),
                ("saddle done", 5),
                ("link done", 5),
            }
        )
            Assert.True(met.GetValueOrDefault(what) >= least, $"'{what}' was met {met.GetValueOrDefault(what)} times only");
    }

    private static VisitEntry Weight(TestYard yard) => new WeightEntry(yard.NewEntry(), 520);

    private Task<Outcome> Merge(string practice, string key, Guid twice, Guid stays) =>
        new Merging(_store.Store, _store.Commands).Horses(
            PracticeStore.Context(practice, $"merge {key}", March),
            twice,
            stays,
            "One horse.",
            CancellationToken.None
        );

    private async Task<Horse> Load(string practice, Guid horse) => (await _store.Horses.Load(practice, horse, CancellationToken.None))!;

    /// <summary>Four horses of one practice, and a handful of acts on them that all begin at once.</summary>
    private sealed class Round(PracticeStore store, int seed, ConcurrentDictionary<string, int> met)
    {
        /// <summary>What may come of an act that came too late; anything else is a fault.</summary>
        private static readonly string[] Late =
        [
            "horse-merged",
            "horse-withdrawn",
            "same-horse",
            "took-in-another",
            "visit-withdrawn",
            "busy",
        ];

        private readonly string _practice = $"round-{seed}";
        private readonly Random _chance = new(seed);
        private readonly List<Guid> _horses = [];
        private readonly ConcurrentDictionary<Guid, Guid> _visits = new();
        private readonly ConcurrentBag<Guid> _withdrawnVisits = [];
        private readonly ConcurrentBag<Guid> _withdrawnHorses = [];
        private readonly ConcurrentDictionary<Guid, Guid> _saddles = new();
        private readonly ConcurrentDictionary<Guid, Guid> _links = new();
        private TestYard _yard = null!;

        private Merging Merging => new(store.Store, store.Commands);

        public async Task Play()
        {
            _yard = new TestYard(store, _practice);
            var first = new List<Guid>();
            foreach (var name in (string[])["Avens", "Bryony", "Comfrey", "Dill"])
            {
                _horses.Add(await _yard.Horse(March, name));
                first.Add(await _yard.Visit(_horses[^1], March, Weight(_yard)));
                _visits[first[^1]] = _horses[^1];
            }

            var (a, b, c) = (_horses[0], _horses[1], _horses[2]);
            // Each round has merges that cannot all be: crosswise, in a ring or in a chain; the rest is chance.
            (Guid Twice, Guid Stays)[] merges = (seed % 3) switch
            {
                0 => [(a, b), (b, a), (a, c)],
                1 => [(a, b), (b, c), (c, a)],
                _ => [(a, b), (b, c), (Any(), Any())],
            };
            var acts = merges.Select((m, n) => Merge(n, m.Twice, m.Stays)).ToList();
            for (var n = 0; n < 5; n++)
            {
                var (horse, visit, key) = (Any(), first[_chance.Next(first.Count)], n);
                acts.Add(
                    _chance.Next(8) switch
                    {
                        0 or 1 => Visit(key, horse),
                        2 => WithdrawVisit(key, visit),
                        3 => WithdrawHorse(key, horse),
                        4 => Saddle(key, horse),
                        5 => Link(key, horse),
                        6 => Sweep,
                        _ => Merge(10 + key, horse, Any()),
                    }
                );
            }

            var order = acts.ToArray();
            _chance.Shuffle(order);
            await Task.WhenAll(order.Select(Task.Run));
            // Whatever came between its steps is caught up with, and then nothing is left to do.
            await Merging.FinishAll(_practice, March.AddHours(1), CancellationToken.None);
            Assert.Equal(0, await Merging.FinishAll(_practice, March.AddHours(2), CancellationToken.None));
        }

        /// <returns>The visits that stand, each with the horse in which it is found now.</returns>
        public async Task<IReadOnlyList<(string Practice, Guid Visit, Guid Horse)>> Check()
        {
            var horses = new Dictionary<Guid, Horse>();
            foreach (var id in _horses)
                horses[id] = (await store.Horses.Load(_practice, id, CancellationToken.None))!;
            foreach (var horse in _horses)
            {
                var end = End(horses, horse);
                Assert.True(
                    !end.Withdrawn || (_withdrawnHorses.Contains(end.Id) && (end.Id == horse || end.Visits.Values.All(v => v.Withdrawn))),
                    $"seed {seed}: the history of {horse} ends in {end.Id}, which was withdrawn"
                );
            }

            var standing = new List<(string, Guid, Guid)>();
            foreach (var (visit, horse) in _visits.Where(v => !_withdrawnVisits.Contains(v.Key)))
            {
                var end = End(horses, horse);
                Assert.True(
                    end.Visits.TryGetValue(visit, out var kept) && !kept.Withdrawn && kept.Entries.Count(e => e.Value) == 1,
                    $"seed {seed}: visit {visit} to {horse} is not in {end.Id}"
                );
                Assert.True(
                    horses.Values.Count(h => h.MergedInto is null && h.Visits.TryGetValue(visit, out var v) && !v.Withdrawn) == 1,
                    $"seed {seed}: visit {visit} stands in several horses"
                );
                standing.Add((_practice, visit, end.Id));
            }

            foreach (var visit in _withdrawnVisits)
                Assert.DoesNotContain(horses.Values, h => h.MergedInto is null && h.Visits.TryGetValue(visit, out var v) && !v.Withdrawn);
            foreach (var (saddle, horse) in _saddles)
                Assert.True(
                    (await store.Saddles.Load(_practice, saddle, CancellationToken.None))!.IsOn(End(horses, horse).Id),
                    $"seed {seed}: the saddle of {horse} stayed behind"
                );
            foreach (var (link, horse) in _links)
                Assert.True(
                    (
                        await new SharingQueries(store.Store).Load(_practice, End(horses, horse).Id, CancellationToken.None)
                    )!.Links.ContainsKey(link),
                    $"seed {seed}: the link to {horse} stayed behind"
                );
            return standing;
        }

        private Horse End(IReadOnlyDictionary<Guid, Horse> horses, Guid from)
        {
            var seen = new HashSet<Guid>();
            var horse = horses[from];
            while (horse.MergedInto is { } into)
            {
                Assert.True(seen.Add(horse.Id), $"seed {seed}: {horse.Id} was merged in a ring");
                horse = horses[into];
            }

            return horse;
        }

        private Guid Any() => _horses[_chance.Next(_horses.Count)];

        private Func<Task> Merge(int n, Guid twice, Guid stays) =>
            () =>
                Note(
                    "merge",
                    Merging.Horses(
                        PracticeStore.Context(_practice, $"merge {n}", March),
                        twice,
                        stays,
                        "One horse.",
                        CancellationToken.None
                    )
                );

        private Func<Task> Visit(int n, Guid horse)
        {
            var (visit, entry) = (DeterministicId.Of(_practice, $"visit {n}"), DeterministicId.Of(_practice, $"entry {n}"));
            var command = new RecordVisit(
                visit,
                March,
                Guid.Empty,
                new VisitConditions(),
                "flexible-curve",
                1,
                [new WeightEntry(entry, 500)]
            );
            return async () =>
            {
                if (await On<Horse>("visit", n, horse, h => HorseDecider.Decide(h, command, March)))
                    _visits[visit] = horse;
            };
        }

        private Func<Task> WithdrawVisit(int n, Guid visit) =>
            async () =>
            {
                var command = new WithdrawVisit(visit, "Traced another horse.", Guid.Empty);
                var done = await On<Horse>("withdraw visit", n, _visits[visit], h => HorseDecider.Decide(h, command, March));
                if (done)
                    _withdrawnVisits.Add(visit);
            };

        private Func<Task> WithdrawHorse(int n, Guid horse) =>
            async () =>
            {
                var command = new WithdrawHorse("By mistake.", Guid.Empty);
                if (await On<Horse>("withdraw horse", n, horse, h => HorseDecider.Decide(h, command, March)))
                    _withdrawnHorses.Add(horse);
            };

        private Func<Task> Saddle(int n, Guid horse) =>
            async () =>
            {
                var saddle = DeterministicId.Of(_practice, $"saddle {n}");
                var register = new RegisterSaddle(saddle, new SaddleDetails($"{n}", null, null, null, null), null, March, Guid.Empty);
                var context = PracticeStore.Context(_practice, $"saddle {n}", March);
                await store.Commands.Execute<Saddle>(context, saddle, s => SaddleDecider.Decide(s, register), CancellationToken.None);
                var state = await store.Horses.Load(_practice, horse, CancellationToken.None);
                var work = new RecordWork(DeterministicId.Of(_practice, $"work {n}"), horse, null, true, false, [], March, Guid.Empty);
                if (await On<Saddle>("saddle", n, saddle, s => SaddleDecider.Decide(s, work, state, March)))
                    _saddles[saddle] = horse;
            };

        private Func<Task> Link(int n, Guid horse) =>
            async () =>
            {
                var link = DeterministicId.Of(_practice, $"link {n}");
                var state = await store.Horses.Load(_practice, horse, CancellationToken.None);
                var command = new MakeLink(link, SharedWith.Rider, SharedScope.Summary, true, false, 30, Guid.Empty);
                if (
                    await On<HorseSharing>(
                        "link",
                        n,
                        HorseSharing.IdOf(horse),
                        s => SharingDecider.Decide(s, command, state, null, new DateOnly(2026, 3, 1), March)
                    )
                )
                    _links[link] = horse;
            };

        private Task Sweep() => Merging.FinishAll(_practice, March, CancellationToken.None);

        private Task<bool> On<T>(string what, int n, Guid stream, Func<T?, Decided> decide)
            where T : class, IFolded<T> =>
            Note(
                what,
                store.Commands.Execute(PracticeStore.Context(_practice, $"act {what} {n}", March), stream, decide, CancellationToken.None)
            );

        private async Task<bool> Note(string what, Task<Outcome> act)
        {
            var outcome = await act;
            Assert.True(
                outcome.Refused is null || Late.Contains(outcome.Refused.Code),
                $"seed {seed}: {what} was refused: {outcome.Refused?.Code}"
            );
            met.AddOrUpdate($"{what} {(outcome.Refused is null ? "done" : "refused")}", 1, (_, n) => n + 1);
            return outcome.Refused is null;
        }
    }
}
