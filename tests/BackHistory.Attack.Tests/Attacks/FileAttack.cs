using System.Text;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Hostile;
using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>Every operation that takes a file, with files that are none, cut off, or too much of one; in every format it names.</summary>
internal static class FileAttack
{
    private static readonly string[] Drawings = ["svg", "dxf", "csv", "xyz"];

    private static readonly string[] Meshes = ["obj", "stl", "ply", "glb", "xyz"];

    public static async Task Run(AttackedService service, int each, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        foreach (var operation in service.Operations.Where(o => !o.Reads && o.Body is not (null or "application/json")))
        {
            if (until?.Invoke() == true)
                break;
            var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
            var touched = false;
            foreach (var format in FormatsOf(operation))
            {
                var files = HostileFiles.All.Concat(await Torn(service, operation, side)).ToArray();
                service.Ledger.Chance.Shuffle(files);
                foreach (var file in files.Take(each))
                    touched |= await Send(service, operation, side, format, file);
            }

            if (touched)
                await Looks.At(service, side, operation.Name);
            service.Of(side).Forget();
            await honest.GoesOn(operation.Name);
        }
    }

    private static string[] FormatsOf(Operation operation) =>
        !operation.Path.Contains("{format}", StringComparison.Ordinal) ? [""]
        : operation.Path.Contains("/mesh/", StringComparison.Ordinal) ? Meshes
        : Drawings;

    /// <summary>The honest file, cut off and with bytes that are others.</summary>
    private static async Task<IReadOnlyList<byte[]>> Torn(AttackedService service, Operation operation, Side side)
    {
        var chance = service.Ledger.Chance;
        var whole = Encoding.UTF8.GetBytes(await service.Of(side).Filled(HonestRequests.BodiesOf(operation)[0]!));
        var torn = new List<byte[]> { whole };
        for (var n = 0; n < 8; n++)
        {
            var copy = whole[..chance.Next(whole.Length / 2, whole.Length + 1)].ToArray();
            for (var spoilt = 0; spoilt < n && copy.Length > 0; spoilt++)
                copy[chance.Next(copy.Length)] = (byte)chance.Next(256);
            torn.Add(copy);
        }

        return torn;
    }

    private static async Task<bool> Send(AttackedService service, Operation operation, Side side, string format, byte[] file)
    {
        var of = service.Of(side);
        var named = operation with { Path = operation.Path.Replace("{format}", format, StringComparison.Ordinal) };
        var query = string.Join('&', (await of.Query(operation)).Select(q => $"{q.Name}={q.Value}"));
        var address = $"{await of.Address(named)}?{query}";
        var answer = await service.For(operation, side).Try("files", operation.Method, address, Attacker.Bytes(file, operation.Body!));
        return answer.Good;
    }
}
