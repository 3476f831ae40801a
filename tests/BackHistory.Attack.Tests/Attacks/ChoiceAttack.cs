using System.Text;
using System.Text.Json.Nodes;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>Every choice that the description offers, in bodies and in parameters, with what is none of them.</summary>
internal static class ChoiceAttack
{
    private static readonly string[] InBodies = ["99", "-1", "0", "\"99\"", "\"0\"", "\"\"", "2147483648"];
    private static readonly string[] InParameters = ["99", "-1"];

    public static async Task Run(AttackedService service)
    {
        var choices = 0;
        foreach (var operation in service.Operations)
        {
            foreach (var body in HonestRequests.BodiesOf(operation).OfType<string>().Where(_ => operation.Body == "application/json"))
                choices += await Bodies(service, operation, body);
            choices += await Parameters(service, operation);
        }

        if (choices < 25)
            service.Ledger.Fault($"only {choices} choices were found");
    }

    private static async Task<int> Bodies(AttackedService service, Operation operation, string body)
    {
        var side = Side.North;
        var of = service.Of(side);
        if (HonestRequests.Spends(operation))
            of.Forget();
        var whole = JsonNode.Parse(await of.Filled(body))!;
        var fields = Fields.Of(whole, operation.Schema, service.Document).Where(f => f.Path.Count > 0 && f.Kind == FieldKind.Text).ToList();
        var offered = 0;
        foreach (var field in fields)
        {
            var isChoice = Fields.SchemaOf(operation.Schema, field.Path, service.Document)?["enum"] is JsonArray;
            offered += isChoice ? 1 : 0;
            // A number is no text either, whatever the description says of the place.
            foreach (var value in isChoice ? InBodies : InBodies[..2])
            {
                var text = Fields.With(whole, field.Path, value);
                var content = Attacker.Bytes(Encoding.UTF8.GetBytes(text), operation.Body!);
                await Refused(service, side, operation, await of.Address(operation), content, $"{string.Join('.', field.Path)} = {value}");
            }
        }

        return offered;
    }

    private static async Task<int> Parameters(AttackedService service, Operation operation)
    {
        var side = Side.North;
        var of = service.Of(side);
        var choices = service.Choices(operation);
        foreach (var name in choices)
        {
            foreach (var value in InParameters)
            {
                var query = (await of.Query(operation))
                    .Where(q => q.Name != name)
                    .Select(q => $"{q.Name}={q.Value}")
                    .Append($"{name}={value}");
                var body = HonestRequests.BodiesOf(operation)[0];
                var content = body is null
                    ? null
                    : Attacker.Bytes(Encoding.UTF8.GetBytes(await of.Filled(body)), operation.Body ?? "text/plain");
                await Refused(
                    service,
                    side,
                    operation,
                    $"{await of.Address(operation)}?{string.Join('&', query)}",
                    content,
                    $"{name} = {value}"
                );
            }
        }

        return choices.Count;
    }

    private static async Task Refused(
        AttackedService service,
        Side side,
        Operation operation,
        string address,
        HttpContent? content,
        string what
    )
    {
        var answer = await service.For(operation, side).Try("choices", operation.Method, address, content);
        // What is measured and not kept is refused in its own answer.
        if ((int)answer.Status is < 400 or >= 500 && answer.Json()?["refused"]?["code"] is null)
            service.Ledger.Fault($"{operation.Name}: {what} is answered {(int)answer.Status}: {answer.Text}");
        if (answer.Good && HonestRequests.Spends(operation))
            service.Of(side).Forget();
    }
}
