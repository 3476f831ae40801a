using BackHistory.Shape.Tests.Wild;

namespace BackHistory.Benchmarks.Shape;

/// <summary>
/// A hundred thousand noisy tracings of made-up smooth backs (four of each of 25 000), their slopes, fills, half areas, widths and skews
/// of shape held against a general smoothing spline and measures that share no code with ours. What differs by more than four root mean
/// square errors has to be explained: the general spline lies further from the truth, or the points leave the measure as uncertain as it
/// says. What is not is named on standard error.
/// </summary>
internal static class WildBenchmark
{
    private const int Backs = 25_000;

    internal static IEnumerable<Figure> Run()
    {
        var run = WildRun.Of(Backs);
        var differences = run.Differences().ToArray();
        var unexplained = differences.Where(d => !d.Explained).ToArray();
        foreach (var one in unexplained)
            Console.Error.WriteLine($"wild: {one}");
        foreach (var (of, m) in run.Uncertain)
            Console.Error.WriteLine($"wild: uncertain {of.Number} ({of.Kind}) {m.Key} {m.Value:0.0} ± {m.Sd:0.0} {m.Unit}");
        yield return new Figure(
            "wild",
            unexplained.Length,
            "limit",
            0,
            "measures that differ without a reason",
            [
                ("tracings", run.Tracings),
                ("refused", run.Refused),
                ("lost", run.Lost),
                ("measures", run.Measures),
                ("missing", run.Missing),
                ("differ", differences.Length),
                ("generalIsFurther", differences.Count(d => d.TheirsIsFurther)),
                ("withinOwnError", differences.Count(d => d is { TheirsIsFurther: false, WithinItsError: true })),
                ("uncertain", run.Uncertain.Count),
                ("uncertainOfOrdinary", run.Uncertain.Count(u => !u.Of.Sparse)),
            ]
        );
    }
}
