using System.Text;
using System.Text.Json.Nodes;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Hostile;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>Every field of every body that is JSON, with what should not stand there; then a look at what follows from it.</summary>
internal static class FieldAttack
{
    /// <param name="each">Values for each field.</param>
    /// <param name="until">Asked before every operation; the attack ends when it says so.</param>
    public static async Task Run(AttackedService service, int each, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        var refused = new List<string>();
        var tried = new List<string>();
        foreach (var operation in service.Operations.Where(o => o.Body == "application/json"))
        {
            if (until?.Invoke() == true)
                break;
            var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
            foreach (var body in HonestRequests.BodiesOf(operation))
            {
                if (!await Attack(service, operation, side, body!, each))
                    refused.Add(operation.Name);
            }

            tried.Add(operation.Name);
            if (tried.Count < 6)
                continue;
            await honest.GoesOn(string.Join(", ", tried));
            tried.Clear();
        }

        await honest.GoesOn(string.Join(", ", tried));
        if (refused.Count > 0)
            service.Ledger.Fault(
                $"Honest requests that were refused, so that nothing behind them was attacked: {string.Join(", ", refused)}"
            );
    }

    /// <returns>Whether the honest request was accepted.</returns>
    private static async Task<bool> Attack(AttackedService service, Operation operation, Side side, string body, int each)
    {
        var (attacker, of) = (service.For(operation, side), service.Of(side));
        var touched = false;
        var spends = HonestRequests.Spends(operation);
        if (spends)
            of.Forget();
        var whole = JsonNode.Parse(await of.Filled(body))!;
        await service.Followed();
        foreach (var field in Fields.Of(whole, operation.Schema, service.Document))
        {
            foreach (var json in Chosen(service, field, whole, each))
            {
                var text = await service.WithForeign(side, json);
                var answer = await attacker.Try("fields", operation.Method, await of.Address(operation), text);
                touched |= answer.Good;
                if (!answer.Good || !spends)
                    continue;
                of.Forget();
                whole = JsonNode.Parse(await of.Filled(body))!;
            }
        }

        if (touched)
            await Looks.At(service, side, operation.Name);
        of.Forget();
        var honest = Attacker.Bytes(Encoding.UTF8.GetBytes(await of.Filled(body)), operation.Body!);
        var address = await of.Address(operation);
        await service.Followed();
        var last = await attacker.Honest(operation.Method, address, honest);
        if (!last.Good && !HonestRequests.IsRefused(operation))
            service.Ledger.Fault($"An honest request is refused: {operation.Name}: {last.Status} {last.Text}");
        if (spends)
            of.Forget();
        return last.Good || HonestRequests.IsRefused(operation);
    }

    /// <summary>Bodies with another value at this place, without it, and with it twice.</summary>
    private static IEnumerable<string> Chosen(AttackedService service, Field field, JsonNode body, int each)
    {
        var values = HostileJson.For(field.Kind).ToArray();
        service.Ledger.Chance.Shuffle(values);
        foreach (var value in values.Take(each))
            yield return Fields.With(body, field.Path, value);
        if (field.Path.Count == 0)
            yield break;
        if (service.Ledger.Chance.Next(2) == 0)
            yield return Fields.Without(body, field.Path);
        else
            yield return Fields.Twice(body, field.Path);
    }
}
