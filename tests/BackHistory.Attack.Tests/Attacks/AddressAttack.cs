using System.Text;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Hostile;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Every operation with ids of the other practice and with what is no id, and every parameter with what should not stand there; by the
/// administrator, and by everybody else as it stands.
/// </summary>
internal static class AddressAttack
{
    private static readonly string[] NoIds =
    [
        "not-an-id",
        "00000000-0000-0000-0000-000000000000",
        "ffffffff-ffff-ffff-ffff-ffffffffffff",
        "%00",
        "%ED%A0%80",
        "%7B01d5305e-7bf0-8ed4-82d4-f00ee0dda9de%7D",
        "01d5305e7bf08ed482d4f00ee0dda9de",
        "..%2F..%2Fpractice",
        "-1",
        "NaN",
        "9999999999999999999",
        "%E2%80%AE",
        new string('a', 5000),
    ];

    public static async Task Run(AttackedService service, int each, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        var others = new Dictionary<Side, IReadOnlyList<Attacker>>
        {
            [Side.North] = await service.Others(Side.North),
            [Side.South] = await service.Others(Side.South),
        };
        var tried = new List<string>();
        foreach (var operation in service.Operations)
        {
            if (until?.Invoke() == true)
                break;
            var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
            if (HonestRequests.Spends(operation))
                service.Of(side).Forget();
            await Ids(service, operation, side, each);
            await Parameters(service, operation, side, each);
            foreach (var attacker in others[side])
                await Send(service, attacker, "roles", operation, side, await service.Of(side).Address(operation));
            if (HonestRequests.Spends(operation))
                service.Of(side).Forget();
            tried.Add(operation.Name);
            if (tried.Count < 10)
                continue;
            await honest.GoesOn(string.Join(", ", tried));
            tried.Clear();
        }

        await honest.GoesOn(string.Join(", ", tried));
    }

    /// <summary>Each place of the address in turn: the other practice's own, and what is no id.</summary>
    private static async Task Ids(AttackedService service, Operation operation, Side side, int each)
    {
        var attacker = service.For(operation, side);
        var places = operation.Path.Split('/').Where(p => p.Contains('{', StringComparison.Ordinal)).ToList();
        foreach (var place in places)
        {
            var name = place[(place.IndexOf('{', StringComparison.Ordinal) + 1)..place.IndexOf('}', StringComparison.Ordinal)];
            var belongs = Belongings.Place(operation, name);
            var values = NoIds.ToArray();
            service.Ledger.Chance.Shuffle(values);
            foreach (var value in values.Take(each).Append(await service.Of(side.Other).Id(belongs)))
            {
                var with = operation with { Path = operation.Path.Replace($"{{{name}}}", value, StringComparison.Ordinal) };
                await Send(service, attacker, "ids", operation, side, await service.Of(side).Address(with));
            }
        }

        if (places.Count > 0)
            await Send(service, attacker, "ids", operation, side, await service.Of(side.Other).Address(operation));
    }

    private static async Task Parameters(AttackedService service, Operation operation, Side side, int each)
    {
        var attacker = service.For(operation, side);
        var of = service.Of(side);
        foreach (var (name, _) in operation.Query)
        {
            var values = (name == "after" ? HostileText.Cursors : HostileText.Escaped).ToArray();
            service.Ledger.Chance.Shuffle(values);
            // Cursors are few, and each list reads its own: all of them.
            foreach (var value in values.Take(name == "after" ? values.Length : 2 * each))
            {
                var honest = (await of.Query(operation)).Where(q => q.Name != name).Select(q => $"{q.Name}={q.Value}");
                var hostile = await service.WithForeign(side, value);
                var query = string.Join('&', honest.Append($"{name}={hostile}"));
                await Send(service, attacker, "parameters", operation, side, $"{await of.Address(operation)}?{query}", withQuery: false);
            }
        }

        if (operation is { Reads: true, Query.Count: > 0 })
            await Send(service, attacker, "parameters", operation, side, await of.Address(operation), withQuery: false);
    }

    private static async Task Send(
        AttackedService service,
        Attacker attacker,
        string attack,
        Operation operation,
        Side side,
        string address,
        bool withQuery = true
    )
    {
        var of = service.Of(side);
        var query = withQuery ? string.Join('&', (await of.Query(operation)).Select(q => $"{q.Name}={q.Value}")) : "";
        var body = HonestRequests.BodiesOf(operation)[0];
        var content = body is null ? null : Attacker.Bytes(Encoding.UTF8.GetBytes(await of.Filled(body)), operation.Body ?? "text/plain");
        var path = query.Length == 0 ? address : $"{address}?{query}";
        var answer = await attacker.Try(attack, operation.Method, path, content);
        if (answer.Good && HonestRequests.Spends(operation))
            of.Forget();
    }
}
