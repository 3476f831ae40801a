using BackHistory.Benchmarks;
using BackHistory.Benchmarks.Trends;

// A room adds its benches here, each under the name that `ops/bench` takes; a bench prints one JSON object a line.
(string Name, Action Run)[] benches =
[
    ("alarms", AlarmsBench.Run),
    ("trends", TrendSpeedBench.Run),
];
return Bench.Dispatch(benches, args);
