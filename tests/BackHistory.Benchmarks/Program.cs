using BackHistory.Benchmarks;
using BackHistory.Benchmarks.Service;
using BackHistory.Benchmarks.Shape;
using BackHistory.Benchmarks.Trends;

// Every figure that the README claims: `ops/bench` runs all, `ops/bench NAME…` some. One JSON object a line on standard output.
(string Name, Func<IEnumerable<Figure>> Run)[] benchmarks =
[
    ("ingest", () => IngestBench.Run().GetAwaiter().GetResult()),
    ("caseload", () => CaseloadBench.Run().GetAwaiter().GetResult()),
    ("chart", ChartBench.Run),
    ("sweep", () => SweepBench.Run().GetAwaiter().GetResult()),
    ("shape", SectionBenchmark.Run),
    ("changemap", ChangeMapBenchmark.Run),
    ("meshcut", MeshCutBenchmark.Run),
    ("smoother", SmootherBenchmark.Run),
    ("trends", TrendSpeedBench.Run),
    ("alarms", AlarmsBench.Run),
];

if (args.FirstOrDefault(a => benchmarks.All(b => b.Name != a)) is { } unknown)
{
    Console.Error.WriteLine($"There is no benchmark '{unknown}'. There are: {string.Join(' ', benchmarks.Select(b => b.Name))}");
    return 2;
}
foreach (var (_, run) in benchmarks.Where(b => args.Length == 0 || args.Contains(b.Name, StringComparer.Ordinal)))
    foreach (var figure in run()) Console.Out.WriteLine(figure.Json());
return 0;
