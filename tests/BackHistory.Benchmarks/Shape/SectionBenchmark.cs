using System.Text.Json;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Tests;

namespace BackHistory.Benchmarks.Shape;

/// <summary>One cross-section of 400 points with 1 mm noise: registered, smoothed, fully measured with standard errors, flagged.</summary>
internal static class SectionBenchmark
{
    internal static IEnumerable<Figure> Run()
    {
        var tracing = FourHundredPoints();
        void Work() => TracingAnalysis.Analyse(tracing);
        var ours = Stopwatched.Milliseconds(Work);
        var input = JsonSerializer.Serialize(tracing.Points.Select(p => new[] { p.X, p.Y }));
        yield return new Figure("shape/section-400", ours, "limit", 1.0, "ms");
        yield return new Figure(
            "shape/section-400",
            ours,
            "scipy splrep + least_squares, shapely, without standard errors",
            ScriptBaseline.Python("section.py", input, "python3-scipy python3-shapely"),
            "ms"
        );
        yield return new Figure("shape/section-400-allocated", Stopwatched.AllocatedKilobytes(Work), "limit", 200, "kB");
    }

    internal static Tracing FourHundredPoints()
    {
        // The first back that is long and steep enough for every measure, cut to four hundred points about the middle.
        for (var seed = 0; ; seed++)
        {
            var points = new RandomBack(new Random(seed), 25, 40).Trace(new Random(seed), 1.25, 1);
            if (points.Points.Length < 400)
                continue;
            var from = (points.Points.Length - 400) / 2;
            var tracing = points with { Points = points.Points[from..(from + 400)] };
            var answer = TracingAnalysis.Analyse(tracing);
            if (answer.Refused is null && answer.Measures.All(m => m.Value is not null))
                return tracing;
        }
    }
}
