using System.Collections.Concurrent;
using System.Text.Json;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.History.Horses;
using BackHistory.Store.Horses;
using BackHistory.Store.Saddles;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Merges, withdrawals and visits of four horses at the same moment, and saddles that are set to them, moved and tried on them, each
/// begun after a wait of its own: however they interleave, each horse ends in exactly one living history, every visit that was taken
/// stands in it once, and no saddle stands on a horse that is gone.
/// </summary>
internal static class Interleavings
{
    /// <summary>What may come of an act that came too late; anything else is a fault.</summary>
    private static readonly string[] Late =
    [
        "horse-merged",
        "horse-withdrawn",
        "same-horse",
        "took-in-another",
        "visit-withdrawn",
        "no-such-visit",
        "busy",
        "not-on-this-horse",
        "on-trial",
    ];

    public static async Task Run(AttackedService service, int rounds, Func<bool>? until = null)
    {
        var met = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);
        for (var n = 0; n < rounds && until?.Invoke() != true; n++)
            await new Round(service, n, met).Play();
        await new HonestWork(service).GoesOn("merges, withdrawals and visits at once");
        // The rounds met what they are there for.
        foreach (var what in new[] { "merge done", "merge late", "visit done", "withdraw done", "saddle done", "saddle late" })
        {
            if (met.GetValueOrDefault(what) == 0)
                service.Ledger.Fault($"'{what}' was never met: {string.Join(", ", met.Select(m => $"{m.Key} {m.Value}"))}");
        }
    }

    private sealed class Round(AttackedService service, int number, ConcurrentDictionary<string, int> met)
    {
        private readonly Side _side = number % 2 == 0 ? Side.North : Side.South;
        private readonly List<Guid> _horses = [];
        private readonly List<Guid> _saddles = [];
        private readonly ConcurrentDictionary<Guid, Guid> _visits = new();
        private readonly ConcurrentBag<Guid> _withdrawnVisits = [];
        private readonly ConcurrentBag<Guid> _withdrawnHorses = [];

        private Attacker Manager => service.Manager(_side);

        public async Task Play()
        {
            var chance = service.Ledger.Chance;
            var first = new List<Guid>();
            for (var h = 0; h < 4; h++)
            {
                var made = await Manager.Honest(HttpMethod.Post, "/api/horses", Attacker.Json($$"""{"name":"{{_side.Canary}} {{h}}"}"""));
                _horses.Add(Guid.Parse((string)made.Json()!["id"]!));
                first.Add((await Visit(_horses[h]))!.Value);
            }

            for (var s = 0; s < 2; s++)
            {
                var made = await Manager.Honest(HttpMethod.Post, "/api/saddles", Attacker.Json($$"""{"label":"{{_side.Canary}} {{s}}"}"""));
                _saddles.Add(Guid.Parse((string)made.Json()!["id"]!));
                await Set(_saddles[s], _horses[s]);
            }

            Guid Any() => _horses[chance.Next(_horses.Count)];
            var (a, b, c) = (_horses[0], _horses[1], _horses[2]);
            // Each round has merges that cannot all be: crosswise, in a ring or in a chain; the rest is chance.
            (Guid Twice, Guid Stays)[] merges = (number % 3) switch
            {
                0 => [(a, b), (b, a), (a, c)],
                1 => [(a, b), (b, c), (c, a)],
                _ => [(a, b), (b, c), (Any(), Any())],
            };
            var acts = merges.Select(m => (Func<Task>)(() => Merge(m.Twice, m.Stays))).ToList();
            for (var n = 0; n < 8; n++)
            {
                var (horse, stays, visit) = (Any(), Any(), first[chance.Next(first.Count)]);
                var saddle = _saddles[chance.Next(_saddles.Count)];
                acts.Add(
                    chance.Next(9) switch
                    {
                        0 or 1 => () => Visit(horse),
                        2 => () => WithdrawVisit(visit),
                        3 => () => WithdrawHorse(horse),
                        4 => () => Set(saddle, horse),
                        5 => () => Move(saddle, horse, stays),
                        6 => () => Try(saddle, horse),
                        _ => () => Merge(horse, stays),
                    }
                );
            }

            var order = acts.Select(act => (Act: act, After: TimeSpan.FromMilliseconds(chance.Next(40)))).ToArray();
            chance.Shuffle(order);
            await Task.WhenAll(
                order.Select(o =>
                    Task.Run(async () =>
                    {
                        await Task.Delay(o.After);
                        await o.Act();
                    })
                )
            );
            await Check();
        }

        private async Task Merge(Guid twice, Guid stays) =>
            await Act("merge", $"/api/horses/{twice}/merge", $$"""{"intoId":"{{stays}}","reason":"One horse."}""");

        private async Task<Guid?> Visit(Guid horse)
        {
            var visit = Guid.CreateVersion7();
            var body = JsonSerializer.Serialize(
                new
                {
                    id = visit,
                    takenAt = "2026-06-12T10:00:00Z",
                    method = _side.Canary,
                    entries = new[]
                    {
                        new
                        {
                            kind = "weight",
                            value = 520,
                            unit = "kg",
                        },
                    },
                }
            );
            if (!await Act("visit", $"/api/horses/{horse}/visits", body))
                return null;
            _visits[visit] = horse;
            return visit;
        }

        private async Task WithdrawVisit(Guid visit)
        {
            if (await Act("withdraw", $"/api/horses/{_visits[visit]}/visits/{visit}/withdraw", """{"reason":"Another horse."}"""))
                _withdrawnVisits.Add(visit);
        }

        private async Task WithdrawHorse(Guid horse)
        {
            if (await Act("withdraw", $"/api/horses/{horse}/withdraw", """{"reason":"By mistake."}"""))
                _withdrawnHorses.Add(horse);
        }

        private Task<bool> Set(Guid saddle, Guid horse) =>
            Act(
                "saddle",
                $"/api/saddles/{saddle}/work",
                $$"""{"horseId":"{{horse}}","kind":"set","fresh":false,"done":[],"takenAt":"2026-06-12T10:00:00Z","onBoth":true}"""
            );

        private Task<bool> Move(Guid saddle, Guid from, Guid to) =>
            Act(
                "saddle",
                $"/api/saddles/{saddle}/move",
                $$"""{"fromHorseId":"{{from}}","horseId":"{{to}}","reason":"Sold.","at":"2026-06-13T10:00:00Z"}"""
            );

        private Task<bool> Try(Guid saddle, Guid horse) =>
            Act("saddle", $"/api/saddles/{saddle}/trials", $$"""{"horseId":"{{horse}}","from":"2026-06-14T10:00:00Z","onBoth":true}""");

        private async Task<bool> Act(string what, string path, string body)
        {
            var answer = await Manager.Try("interleaved", HttpMethod.Post, path, body);
            var code = (string?)answer.Json()?["code"] ?? "";
            if (!answer.Good && !Late.Contains(code))
                service.Ledger.Fault($"round {number}: {what} is answered {answer.Status} {answer.Text}");
            met.AddOrUpdate($"{what} {(answer.Good ? "done" : "late")}", 1, (_, n) => n + 1);
            return answer.Good;
        }

        private async Task Check()
        {
            var queries = service.Services.GetRequiredService<HorseQueries>();
            var horses = new Dictionary<Guid, Horse>();
            foreach (var id in _horses)
                horses[id] = (await queries.Load(_side.Practice, id, CancellationToken.None))!;
            foreach (var horse in _horses)
            {
                if (End(horses, horse) is not { } end)
                    service.Ledger.Fault($"round {number}: {horse} was merged in a ring and lives nowhere");
                else if (
                    end.Withdrawn && !(_withdrawnHorses.Contains(end.Id) && (end.Id == horse || end.Visits.Values.All(v => v.Withdrawn)))
                )
                    service.Ledger.Fault($"round {number}: the history of {horse} ends in {end.Id}, which was withdrawn");
            }

            foreach (var (visit, horse) in _visits.Where(v => !_withdrawnVisits.Contains(v.Key)))
            {
                var living = horses
                    .Values.Where(h => h.MergedInto is null && h.Visits.TryGetValue(visit, out var v) && !v.Withdrawn)
                    .ToList();
                if (living.Count != 1 || living[0].Id != End(horses, horse)?.Id)
                    service.Ledger.Fault($"round {number}: visit {visit} of {horse} stands in {living.Count} living histories");
            }

            foreach (var visit in _withdrawnVisits)
            {
                if (horses.Values.Any(h => h.MergedInto is null && h.Visits.TryGetValue(visit, out var v) && !v.Withdrawn))
                    service.Ledger.Fault($"round {number}: visit {visit} was withdrawn and stands");
            }

            var saddles = service.Services.GetRequiredService<SaddleQueries>();
            foreach (var id in _saddles)
            {
                var saddle = (await saddles.Load(_side.Practice, id, CancellationToken.None))!;
                foreach (var horse in horses.Values.Where(h => h.MergedInto is not null && saddle.StandsOn(h.Id)))
                    service.Ledger.Fault($"round {number}: saddle {id} was left behind on {horse.Id}, which went on in another");
            }

            // Whoever asks for a horse that went on in another is led to it, and sees no other.
            await service.Followed();
            foreach (var horse in _horses)
            {
                var shown = await Manager.Look($"/api/horses/{horse}");
                if (End(horses, horse) is { Withdrawn: false } && !shown.Good && shown.Location is null)
                    service.Ledger.Fault($"round {number}: {horse} is not found any more: {shown.Status}");
            }
        }

        private static Horse? End(IReadOnlyDictionary<Guid, Horse> horses, Guid from)
        {
            var seen = new HashSet<Guid>();
            var horse = horses[from];
            while (horse.MergedInto is { } into)
            {
                if (!seen.Add(horse.Id))
                    return null;
                horse = horses[into];
            }

            return horse;
        }
    }
}
