using BackHistory.Benchmarks;
using BackHistory.Benchmarks.Service;
using BackHistory.Benchmarks.Trends;

// A room adds its benches here, each under the name that `ops/bench` takes; a bench prints one JSON object a line.
(string Name, Action Run)[] benches =
[
    ("ingest", () => IngestBench.Run().GetAwaiter().GetResult()),
    ("caseload", () => CaseloadBench.Run().GetAwaiter().GetResult()),
    ("chart", ChartBench.Run),
    ("alarms", AlarmsBench.Run),
    ("trends", TrendSpeedBench.Run),
];
return Bench.Dispatch(benches, args);
