using BackHistory.Shape.Analysis;
using BackHistory.Shape.Surfaces;
using BackHistory.Shape.Tests;

namespace BackHistory.Benchmarks.Shape;

/// <summary>Two backs of four stations, compared every 2 mm.</summary>
internal static class ChangeMapBenchmark
{
    internal static IEnumerable<Figure> Run()
    {
        BackSurface Back(int seed) =>
            BackSurface
                .Loft(
                    ((string, double)[])[("shoulder", 0), ("behind-shoulder", 102), ("mid-back", 270), ("last-rib", 440)] is var stations
                        ? stations.Select(
                            (s, k) =>
                                new StationSection(
                                    s.Item1,
                                    s.Item2,
                                    TracingAnalysis
                                        .Analyse(new RandomBack(new Random(seed + k), 25, 60).Trace(new Random(seed), 2.5, 1))
                                        .Contour!
                                )
                        )
                        : []
                )
                .Surface!;
        var (earlier, later) = (Back(10), Back(10_000));
        var map = ChangeMap.Between(earlier, later, 2)!;
        Console.Error.WriteLine($"changemap: {map.Changes.Length} corners, gain {map.Gain?.Change:0.0} mm {map.Gain?.Words}");
        yield return new Figure(
            "changemap/4-stations-2mm",
            Stopwatched.Milliseconds(() => ChangeMap.Between(earlier, later, 2)),
            "limit",
            50,
            "ms"
        );
    }
}
