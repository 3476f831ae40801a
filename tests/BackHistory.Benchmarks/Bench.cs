using System.Diagnostics;

namespace BackHistory.Benchmarks;

/// <summary>What benches share: dispatch by name, the line that they print, and a stopwatch that warms up first.</summary>
static class Bench
{
    internal static int Dispatch((string Name, Action Run)[] benches, string[] names)
    {
        var unknown = names.Where(n => !benches.Any(b => string.Equals(b.Name, n, StringComparison.Ordinal))).ToList();
        if (unknown.Count > 0)
        {
            Console.Error.WriteLine($"No such bench: {string.Join(' ', unknown)}. There are: {string.Join(' ', benches.Select(b => b.Name))}.");
            return 2;
        }
        foreach (var (name, run) in benches) if (names.Length == 0 || names.Contains(name, StringComparer.Ordinal)) run();
        return 0;
    }

    /// <param name="theirs">Null when the baseline could not be run here; why is told on standard error.</param>
    internal static void Print(string bench, double ours, string baseline, double? theirs, string unit) => Print([new Figure(bench, ours, baseline, theirs, unit)]);

    internal static void Print(IEnumerable<Figure> figures)
    {
        foreach (var figure in figures) Console.WriteLine(figure.Json());
    }

    /// <summary>Milliseconds of one call: the best of five rounds after a warm-up, wall clock.</summary>
    internal static double Milliseconds(Action action, int calls)
    {
        for (var i = 0; i < calls; i++) action();
        var best = double.MaxValue;
        for (var round = 0; round < 5; round++)
        {
            var watch = Stopwatch.StartNew();
            for (var i = 0; i < calls; i++) action();
            best = Math.Min(best, watch.Elapsed.TotalMilliseconds / calls);
        }
        return best;
    }
}
