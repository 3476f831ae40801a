using System.Text;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>Every writing request as a device sends it that kept what somebody else entered.</summary>
internal static class DeviceAttack
{
    public static async Task Run(AttackedService service)
    {
        var side = Side.North;
        var of = service.Of(side);
        foreach (var operation in service.Operations.Where(o => !o.Reads && !WritesNothing(o)))
        {
            var body = HonestRequests.BodiesOf(operation)[0];
            var content = body is null
                ? null
                : Attacker.Bytes(Encoding.UTF8.GetBytes(await of.Filled(body)), operation.Body ?? "text/plain");
            var query = string.Join('&', (await of.Query(operation)).Select(q => $"{q.Name}={q.Value}"));
            var address = await of.Address(operation);
            var answer = await service
                .For(operation, side)
                .Try(
                    "devices",
                    operation.Method,
                    query.Length == 0 ? address : $"{address}?{query}",
                    content,
                    enteredBy: $"{Guid.Empty:N}@{side.Practice}"
                );
            if (answer.Code != "entered-by-another")
                service.Ledger.Fault($"{operation.Name}, entered by somebody else, is answered {(int)answer.Status}: {answer.Text}");
            if (answer.Good && HonestRequests.Spends(operation))
                of.Forget();
        }
    }

    /// <summary>Sent by POST for its size, and works something out.</summary>
    private static bool WritesNothing(Operation operation) =>
        operation.Path is "/api/measure" || operation.Path.StartsWith("/api/contours/", StringComparison.Ordinal);
}
