using System.Globalization;
using System.Text.Json.Nodes;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Every id that a body or a parameter of a writing request names: one that nobody has, the other practice's, one of zeros, and of
/// somebody who was erased. Each is refused as if it were not there.
/// </summary>
internal static class NamedIdAttack
{
    /// <summary>Ids that the sender chooses, so that nothing needs to be there.</summary>
    private static readonly Dictionary<string, string> Chosen = new(StringComparer.Ordinal)
    {
        ["POST /api/horses/{horseId}/visits id"] = "A visit that was entered without a connection brings its own id.",
    };

    /// <summary>
    /// Said of whatever is not there, and of what is there and somewhere else: a horse that does not have the saddle, one that no letter
    /// was written about, an owner who is changed by another request, a visit of a horse
    /// that nobody looked at yet.
    /// </summary>
    private static readonly string[] Otherwise =
    [
        "not-on-this-horse",
        "nothing-to-show",
        "changed-elsewhere",
        "other-horse",
        "not-yet-evaluated",
    ];

    public static async Task Run(AttackedService service)
    {
        var places = 0;
        foreach (var operation in service.Operations.Where(o => !o.Reads))
        {
            foreach (var body in HonestRequests.BodiesOf(operation).OfType<string>().Where(_ => operation.Body == "application/json"))
                places += await Fields(service, operation, body);
            places += await Parameters(service, operation);
        }

        if (places < 20)
            service.Ledger.Fault($"only {places} places that name something were found");
    }

    private static async Task<int> Fields(AttackedService service, Operation operation, string body)
    {
        var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
        var of = service.Of(side);
        if (HonestRequests.Spends(operation))
            of.Forget();
        var whole = JsonNode.Parse(await of.Filled(body))!;
        var places = Requests
            .Fields.Of(whole, operation.Schema, service.Document)
            .Where(f => f.Path.Count > 0 && (f.Kind == FieldKind.Id || IsListOfIds(f)))
            .Where(f => !Chosen.ContainsKey($"{operation.Name} {Name(f)}"))
            .ToList();
        foreach (var field in places)
        {
            foreach (var (what, id) in await Ids(service, side))
            {
                var json = IsListOfIds(field) ? $"[\"{id}\",\"{Nobody(service)}\"]" : $"\"{id}\"";
                await Refused(
                    service,
                    side,
                    operation,
                    await of.Address(operation),
                    Requests.Fields.With(whole, field.Path, json),
                    $"{Name(field)} is {what}"
                );
            }
        }

        return places.Count;
    }

    /// <summary>A list that the honest body leaves out.</summary>
    private static bool IsListOfIds(Field field) => field.Kind == FieldKind.List && field.Path is [.., "about" or "raters" or "shows"];

    private static async Task<int> Parameters(AttackedService service, Operation operation)
    {
        var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
        var of = service.Of(side);
        var places = 0;
        foreach (var (name, _) in operation.Query.Where(q => IsId(HonestRequests.QueryOf(operation, q.Name))))
        {
            places++;
            foreach (var (what, id) in await Ids(service, side))
            {
                var query = (await of.Query(operation))
                    .Where(q => q.Name != name)
                    .Select(q => $"{q.Name}={q.Value}")
                    .Append($"{name}={id}");
                var body = HonestRequests.BodiesOf(operation)[0];
                var address = $"{await of.Address(operation)}?{string.Join('&', query)}";
                await Refused(service, side, operation, address, body is null ? null : await of.Filled(body), $"{name} is {what}");
            }
        }

        return places;
    }

    private static bool IsId(string? honest) => honest?.StartsWith('@') == true && honest[1..] is not ("word" or "fresh" or "template");

    private static async Task Refused(AttackedService service, Side side, Operation operation, string address, string? body, string what)
    {
        var content = body is null ? null : Attacker.Bytes(System.Text.Encoding.UTF8.GetBytes(body), operation.Body ?? "text/plain");
        var answer = await service.For(operation, side).Try("named ids", operation.Method, address, content);
        if (answer.Json() is JsonArray each)
        {
            // Several visits are booked at once, and each is answered for itself.
            if (!each.All(one => one?["refused"]?["code"] is { } no && IsMissing((string)no!)))
                service.Ledger.Fault($"{operation.Name}: {what}, and is answered {answer.Text}");
        }
        else if ((int)answer.Status is < 400 or >= 500)
            service.Ledger.Fault($"{operation.Name}: {what}, and is answered {(int)answer.Status}: {answer.Text}");
        else if (answer.Code is { } code && !IsMissing(code))
            service.Ledger.Fault($"{operation.Name}: {what}, and is refused for another reason: {answer.Text}");
        if (answer.Good && HonestRequests.Spends(operation))
            service.Of(side).Forget();
    }

    /// <summary>Refused as what is not there.</summary>
    private static bool IsMissing(string code) => code.StartsWith("no-", StringComparison.Ordinal) || Otherwise.Contains(code);

    private static async Task<IReadOnlyList<(string What, string Id)>> Ids(AttackedService service, Side side)
    {
        var other = service.Of(side.Other);
        return
        [
            ("nobody's", Nobody(service)),
            ("of zeros", Guid.Empty.ToString()),
            ("a person of the other practice", await other.Id("person")),
            ("a yard of the other practice", await other.Id("yard")),
            ("a horse of the other practice", await other.Id("horse")),
            ("a saddle of the other practice", await other.Id("saddle")),
            ("a visit of the other practice", await other.Id("visit")),
            ("of somebody who was erased", await service.Erased(side)),
        ];
    }

    private static string Nobody(AttackedService service)
    {
        Span<byte> bytes = stackalloc byte[16];
        service.Ledger.Chance.NextBytes(bytes);
        return new Guid(bytes).ToString("D", CultureInfo.InvariantCulture);
    }

    private static string Name(Field field) => string.Join('.', field.Path);
}
