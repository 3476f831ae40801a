using BackHistory.Benchmarks;
using BackHistory.Benchmarks.History;
using BackHistory.Benchmarks.Service;
using BackHistory.Benchmarks.Shape;
using BackHistory.Benchmarks.Trends;
using BackHistory.Benchmarks.Trends.Worlds;

// Every figure that the README claims: `ops/bench` runs all, `ops/bench NAME…` some. One JSON object a line on standard output;
// pictures go into a folder that stands after `--pictures`. `events=1000000` says how large the histories of `rebuild` and `timeline`
// are; without it they end within minutes.
const string SizeOf = "events=";
var size =
    args.LastOrDefault(a => a.StartsWith(SizeOf, StringComparison.Ordinal)) is { } said
    && int.TryParse(said.AsSpan(SizeOf.Length), System.Globalization.CultureInfo.InvariantCulture, out var many)
        ? many
        : 20_000;

// How long `attack` goes on; it is run by its name only.
const string MinutesOf = "minutes=";
var minutes =
    args.LastOrDefault(a => a.StartsWith(MinutesOf, StringComparison.Ordinal)) is { } asked
    && int.TryParse(asked.AsSpan(MinutesOf.Length), System.Globalization.CultureInfo.InvariantCulture, out var given)
        ? given
        : 60;

// How many horses each scenario of `alarms` has, and which scenarios: `alarms horses=60 scenarios=S0,A`.
const string HorsesOf = "horses=",
    ScenariosOf = "scenarios=";
var horses =
    args.LastOrDefault(a => a.StartsWith(HorsesOf, StringComparison.Ordinal)) is { } herd
    && int.TryParse(herd.AsSpan(HorsesOf.Length), System.Globalization.CultureInfo.InvariantCulture, out var count)
        ? count
        : 500;
string[] scenarios = args.LastOrDefault(a => a.StartsWith(ScenariosOf, StringComparison.Ordinal)) is { } listed
    ? listed[ScenariosOf.Length..].Split(',', StringSplitOptions.RemoveEmptyEntries)
    : [];
string[] settings = [SizeOf, MinutesOf, HorsesOf, ScenariosOf];
args = [.. args.Where(a => !settings.Any(s => a.StartsWith(s, StringComparison.Ordinal)))];
var at = Array.IndexOf(args, "--pictures");
var pictures = at >= 0 && at + 1 < args.Length ? args[at + 1] : null;
string[] names = at < 0 ? args : [.. args[..at], .. args[Math.Min(at + 2, args.Length)..]];
if (at >= 0 && pictures is null)
{
    Console.Error.WriteLine("Say into which folder: --pictures FOLDER");
    return 2;
}
(string Name, Func<IEnumerable<Figure>> Run)[] benchmarks =
[
    ("ingest", () => IngestBench.Run().GetAwaiter().GetResult()),
    ("caseload", () => CaseloadBench.Run().GetAwaiter().GetResult()),
    ("screens", () => ScreensBench.Run().GetAwaiter().GetResult()),
    ("import", () => ImportBench.Run().GetAwaiter().GetResult()),
    ("rebuild", () => RebuildBench.Run(size).GetAwaiter().GetResult()),
    ("timeline", () => TimelineBench.Run(size).GetAwaiter().GetResult()),
    ("chart", ChartBench.Run),
    ("sweep", () => SweepBench.Run().GetAwaiter().GetResult()),
    ("shape", SectionBenchmark.Run),
    ("changemap", ChangeMapBenchmark.Run),
    ("meshcut", MeshCutBenchmark.Run),
    ("smoother", SmootherBenchmark.Run),
    ("wild", WildBenchmark.Run),
    ("trends", TrendSpeedBench.Run),
    // The world of measures is one world for all: it is run where no scenario is named.
    ("alarms", () => WorldsBench.Run(horses, scenarios).Concat(scenarios.Length > 0 ? [] : AlarmsBench.Run(pictures))),
    ("attack", () => AttackBench.Run(minutes).GetAwaiter().GetResult()),
];

if (names.FirstOrDefault(a => benchmarks.All(b => b.Name != a)) is { } unknown)
{
    Console.Error.WriteLine($"There is no benchmark '{unknown}'. There are: {string.Join(' ', benchmarks.Select(b => b.Name))}");
    return 2;
}
foreach (var (_, run) in benchmarks.Where(b => names.Length == 0 ? b.Name != "attack" : names.Contains(b.Name, StringComparer.Ordinal)))
foreach (var figure in run())
    Console.Out.WriteLine(figure.Json());
return 0;
