using System.Net;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Idempotency keys that come again: at once from several sides, with another body, from another person, from the other practice, and
/// keys that are none.
/// </summary>
internal static class KeyAttack
{
    private const int AtOnce = 6;

    private static readonly string[] Creating =
    [
        "POST /api/horses",
        "POST /api/people",
        "POST /api/yards",
        "POST /api/saddles",
        "POST /api/horses/{horseId}/visits",
        "POST /api/horses/{horseId}/care",
        "POST /api/horses/{horseId}/work",
        "POST /api/horses/{horseId}/sharing/links",
        "POST /api/horses/{horseId}/sharing/grants",
        "POST /api/saddles/{saddleId}/pads",
        "POST /api/practice/studies",
        "POST /api/calendar-feeds",
        "POST /api/webhooks",
    ];

    /// <summary>What is answered once only, because a secret is shown.</summary>
    private static readonly string[] Once = ["/api/webhooks"];

    private static readonly string[] NoKeys = ["", " ", "\"\"", new('k', 201), new('k', 20_000), "\u0001", "'; drop table x; --", "form:a"];

    public static async Task Run(AttackedService service, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        foreach (var operation in Creating.Select(service.Operation))
        {
            if (until?.Invoke() == true)
                break;
            foreach (var side in new[] { Side.North, Side.South })
            {
                foreach (var attack in new[] { Again, Concurrent, None })
                {
                    service.Of(side).Forget();
                    service.Of(side.Other).Forget();
                    await attack(service, operation, side);
                }
            }
        }

        await honest.GoesOn("keys that came again");
    }

    /// <summary>The same again is the same; another body is told; another practice with the same key makes its own.</summary>
    private static async Task Again(AttackedService service, Operation operation, Side side)
    {
        var (key, address, body) = await Request(service, operation, side);
        var manager = service.Manager(side);
        var first = await manager.Try("keys", operation.Method, address, body, key);
        var again = await manager.Try("keys", operation.Method, address, body, key);
        if (!first.Good || (again.Good ? Made(again) != Made(first) : !Once.Contains(operation.Path)))
            service.Ledger.Fault(
                $"{operation.Name} sent again with its key: {first.Status} {first.Text}\nthen {again.Status} {again.Text}"
            );

        var changed = body.Replace(side.Canary, $"{side.Canary} changed", StringComparison.Ordinal);
        var other = await manager.Try("keys", operation.Method, address, changed, key);
        if (other.Good && changed != body)
            service.Ledger.Fault($"{operation.Name} takes another body with a key that was used: {other.Status} {other.Text}");

        var there = await Request(service, operation, side.Other);
        var foreign = await service.Manager(side.Other).Try("keys", operation.Method, there.Address, there.Body, key);
        if (foreign.Good && Made(foreign) == Made(first))
            service.Ledger.Fault($"{operation.Name}: both practices made {Made(first)} with one key");
        var colleague = await service.Session(side).Try("keys", operation.Method, address, changed, key);
        if (colleague.Good && Made(colleague) == Made(first))
            service.Ledger.Fault($"{operation.Name}: two people made {Made(first)} with one key");
    }

    /// <summary>Several at the same moment make one thing, and each is told of it or that it comes at a bad time.</summary>
    private static async Task Concurrent(AttackedService service, Operation operation, Side side)
    {
        var (key, address, body) = await Request(service, operation, side);
        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, AtOnce)
                .Select(_ => Task.Run(() => service.Manager(side).Try("keys at once", operation.Method, address, body, key)))
        );
        var made = answers.Where(a => a.Good).Select(Made).Distinct().ToList();
        if (made.Count != 1 || answers.Any(a => !a.Good && a.Status != HttpStatusCode.Conflict))
            service.Ledger.Fault(
                $"{operation.Name}, {AtOnce} at once with one key, made {string.Join(", ", made)}: "
                    + string.Join("; ", answers.Select(a => $"{a.Status} {(a.Good ? "" : a.Text)}"))
            );
        var bodies = Enumerable.Range(0, AtOnce).Select(n => body.Replace(side.Canary, $"{side.Canary} {n}", StringComparison.Ordinal));
        var mixed = await Task.WhenAll(
            bodies.Select(b => Task.Run(() => service.Manager(side).Try("keys at once", operation.Method, address, b, $"{key} mixed")))
        );
        if (mixed.Where(a => a.Good).Select(Made).Distinct().Count() > 1)
            service.Ledger.Fault($"{operation.Name}: several bodies at once with one key made several");
    }

    private static async Task None(AttackedService service, Operation operation, Side side)
    {
        var (_, address, body) = await Request(service, operation, side);
        foreach (var key in NoKeys)
            await service.Manager(side).Try("keys", operation.Method, address, body, key);
        foreach (var version in new string?[] { null, "", "\"-1\"", "\"99999999999999999999\"", "NaN", "\"1\"", "\u0001" })
            await service.Manager(side).Try("versions", operation.Method, address, Attacker.Json(body), null, version);
    }

    private static async Task<(string Key, string Address, string Body)> Request(AttackedService service, Operation operation, Side side)
    {
        var of = service.Of(side);
        var body = await of.Filled(HonestRequests.BodiesOf(operation)[0]!);
        return (Guid.NewGuid().ToString(), await of.Address(operation), body);
    }

    private static string? Made(Answer answer) =>
        answer.Json() is { } json
            ? (string?)json["made"] ?? (string?)json["workId"] ?? (string?)json["visitId"] ?? (string?)json["id"]
            : null;
}
