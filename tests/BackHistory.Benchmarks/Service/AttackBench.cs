using System.Diagnostics;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Attacks;
using BackHistory.Testing;

namespace BackHistory.Benchmarks.Service;

/// <summary>The attack of the tests, for as long as it is given: round after round, each with a seed and a service of its own.</summary>
static class AttackBench
{
    private const int Rounds = 1000;
    private const string Baseline = "nothing may break, be set aside or be read by the other practice";

    internal static async Task<IReadOnlyList<Figure>> Run(int minutes)
    {
        var watch = Stopwatch.StartNew();
        bool Over() => watch.Elapsed > TimeSpan.FromMinutes(minutes);
        var seed = (int)(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds() % 1_000_000);
        var figures = new List<Figure>
        {
            await Attack("interleaved merges, withdrawals and visits", seed, service => Interleavings.Run(service, Rounds, Over)),
        };
        for (var round = 1; !Over(); round++)
            figures.Add(await Attack($"round {round}", seed + round, service => Everything(service, Over)));
        await TestServer.Stop();
        return figures;
    }

    private static async Task Everything(AttackedService service, Func<bool> over)
    {
        await FieldAttack.Run(service, each: 6, over);
        await AddressAttack.Run(service, each: 4, over);
        await FileAttack.Run(service, each: 30, over);
        await FormAttack.Run(service, each: 4, over);
        await LinkAttack.Run(service, each: 5, over);
        await KeyAttack.Run(service, over);
    }

    private static async Task<Figure> Attack(string name, int seed, Func<AttackedService, Task> attack)
    {
        // The choice of the database is told; standard output is for figures.
        var figures = Console.Out;
        Console.SetOut(Console.Error);
        await using var service = await AttackedService.Start(await TestServer.NewDatabase(), seed);
        try
        {
            await attack(service);
        }
        catch (Exception e) when (e is InvalidOperationException or NullReferenceException or FormatException)
        {
            service.Ledger.Fault($"The attack could not go on: {e}");
        }

        await Console.Error.WriteLineAsync(service.Ledger.Line(name));
        if (service.Ledger.Faults.Count > 0)
            await Console.Error.WriteLineAsync(service.Ledger.Said());
        Console.SetOut(figures);
        return new Figure(
            $"attack: faults, {name}",
            service.Ledger.Faults.Count,
            Baseline,
            0,
            "faults",
            [("seed", seed), ("attempts", service.Ledger.Attempts), .. service.Ledger.Counts]
        );
    }
}
