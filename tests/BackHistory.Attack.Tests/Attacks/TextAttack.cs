using System.Text;
using System.Text.Json.Nodes;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Every text of every body: a million letters, signs that no keyboard makes, signs that turn what stands around them; and in the place
/// of a name what nobody can see.
/// </summary>
internal static class TextAttack
{
    private static readonly (string What, string Json)[] Anywhere =
    [
        ("a million letters", $"\"{new string('a', 1 << 20)}\""),
        ("a control sign", "\"a\\u0001b\""),
        ("a control sign, as it is", "\"a\u0081b\""),
        ("a delete", "\"a\u007Fb\""),
        ("no character", "\"a\\uFFFEb\""),
        ("no character, as it is", "\"a\uFDD0b\""),
        ("no character beyond the first plane", "\"a\\uD83F\\uDFFEb\""),
        ("an override", "\"a\\u202Eb\""),
        ("an override, as it is", "\"a\u202Eb\""),
    ];

    private static readonly (string What, string Json)[] Names =
    [
        ("a Hangul filler", "\"\\u3164\""),
        ("zero width", "\"\\u200B\\u200D\\uFEFF\""),
        ("a blank of Braille", "\"\\u2800\""),
        ("a mark on nothing", "\"\\u0301\""),
        ("an isolate", "\"Anna\\u2067\""),
    ];

    public static async Task Run(AttackedService service)
    {
        foreach (var operation in service.Operations.Where(o => o.Body == "application/json"))
        {
            foreach (var body in HonestRequests.BodiesOf(operation))
                await Attack(service, operation, body!);
        }
    }

    private static async Task Attack(AttackedService service, Operation operation, string body)
    {
        var side = Side.South;
        var of = service.Of(side);
        if (HonestRequests.Spends(operation))
            of.Forget();
        var whole = JsonNode.Parse(await of.Filled(body))!;
        foreach (var field in Fields.Of(whole, operation.Schema, service.Document).Where(f => f.Path.Count > 0 && f.Kind == FieldKind.Text))
        {
            var values = field.Path is [.., "name" or "label"] ? Anywhere.Concat(Names) : Anywhere;
            foreach (var (what, json) in values)
            {
                var content = Attacker.Bytes(Encoding.UTF8.GetBytes(Fields.With(whole, field.Path, json)), operation.Body!);
                var answer = await service.For(operation, side).Try("texts", operation.Method, await of.Address(operation), content);
                // What is measured and not kept is refused in its own answer.
                if ((int)answer.Status is < 400 or >= 500 && answer.Json()?["refused"]?["code"] is null)
                    service.Ledger.Fault(
                        $"{operation.Name}: {string.Join('.', field.Path)} is {what}, and is answered {(int)answer.Status}"
                    );
                if (answer.Good && HonestRequests.Spends(operation))
                    of.Forget();
            }
        }
    }
}
