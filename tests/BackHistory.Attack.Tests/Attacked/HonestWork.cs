using System.Globalization;
using System.Net;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Attack.Tests.Attacked;

/// <summary>
/// The work of both practices that has to go on whatever is tried: a visit of a horse that nobody attacks, its measures, and the service's
/// own word that it is well.
/// </summary>
internal sealed class HonestWork(AttackedService service)
{
    private readonly Dictionary<Side, Guid> _horses = [];
    private readonly Dictionary<Side, int> _visits = [];

    /// <param name="after">What was tried since the last time.</param>
    public async Task GoesOn(string after)
    {
        foreach (var side in new[] { Side.North, Side.South })
            await Visit(side, after);
        if (!await service.Followed())
            service.Ledger.Fault($"After {after}: the read models stand still.\n{service.LastError()}");
        foreach (var side in new[] { Side.North, Side.South })
            await Measured(side, after);
        await Well(after);
    }

    private async Task Visit(Side side, string after)
    {
        var manager = service.Manager(side);
        if (!_horses.TryGetValue(side, out var horse))
        {
            var made = await manager.Honest(HttpMethod.Post, "/api/horses", Attacker.Json($$"""{"name":"Honest {{side.Canary}}"}"""));
            horse = _horses[side] = Guid.Parse((string)made.Json()!["id"]!);
        }

        var day = new DateTime(2020, 1, 1, 10, 0, 0, DateTimeKind.Utc).AddDays(_visits.GetValueOrDefault(side));
        var visit = await manager.Honest(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            Attacker.Json(
                JsonSerializer.Serialize(
                    new
                    {
                        takenAt = day.ToString("O", CultureInfo.InvariantCulture),
                        method = side.Canary,
                        entries = new object[]
                        {
                            new
                            {
                                kind = "cross-section",
                                station = "behind-shoulder",
                                unit = "mm",
                                yAxis = "up",
                                noise = 0.5,
                                points = Backs.Section(45, 41).Points.Select(p => new[] { p.X, p.Y }),
                            },
                        },
                    }
                )
            )
        );
        if (visit.Status != HttpStatusCode.Created)
            service.Ledger.Fault($"After {after}: an honest visit of {side.Practice} is answered {visit.Status} {visit.Text}");
        else
            _visits[side] = _visits.GetValueOrDefault(side) + 1;
    }

    private async Task Measured(Side side, string after)
    {
        var measures = await service.Manager(side).Look($"/api/horses/{_horses[side]}/measures?key=slope-left");
        var values = measures.Json()?.AsArray().Select(m => (double)m!["value"]!).ToList() ?? [];
        if (values.Count != _visits.GetValueOrDefault(side) || values.Any(v => Math.Abs(v - 45) > 0.5))
            service.Ledger.Fault(
                $"After {after}: {side.Practice} sees {values.Count} of {_visits.GetValueOrDefault(side)} honest visits: {measures.Status}"
            );
        var aside = await service.Manager(side).Look("/api/audit/set-aside");
        if (aside.Json()?.AsArray().Count != 0)
            service.Ledger.Fault($"After {after}: {side.Practice} has something set aside: {aside.Status} {aside.Text}");
    }

    private async Task Well(string after)
    {
        using var anybody = service.Anonymous("somebody who watches");
        foreach (var path in new[] { "/health/ready", "/health/summary" })
        {
            var answer = await anybody.Look(path);
            if (!answer.Good)
                service.Ledger.Fault($"After {after}: {path} says {answer.Status} {answer.Text}");
        }
    }
}
