using BackHistory.Benchmarks;
using BackHistory.Benchmarks.Service;
using BackHistory.Benchmarks.Shape;
using BackHistory.Benchmarks.Trends;

// Every figure that the README claims, under the name that `ops/bench` takes. A room adds its benches here.
(string Name, Action Run)[] benches =
[
    ("ingest", () => IngestBench.Run().GetAwaiter().GetResult()),
    ("caseload", () => CaseloadBench.Run().GetAwaiter().GetResult()),
    ("chart", ChartBench.Run),
    ("shape", () => Bench.Print(SectionBenchmark.Run())),
    ("changemap", () => Bench.Print(ChangeMapBenchmark.Run())),
    ("meshcut", () => Bench.Print(MeshCutBenchmark.Run())),
    ("smoother", () => Bench.Print(SmootherBenchmark.Run())),
    ("alarms", () => Bench.Print(AlarmsBench.Run())),
    ("trends", () => Bench.Print(TrendSpeedBench.Run())),
];
return Bench.Dispatch(benches, args);
