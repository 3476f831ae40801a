using System.Diagnostics;
using System.Globalization;
using BackHistory.Trends;

namespace BackHistory.Benchmarks.Trends;

/// <summary>How long fits and decisions take, and how long the same fits take a general statistics package in the same run.</summary>
static class TrendSpeedBench
{
    const int SeriesLength = 30, SeriesCount = 20_000, PackageCount = 200;

    internal static void Run()
    {
        var series = Horse();
        Bench.Print("trends: fit and decide one horse, 12 measures at 4 stations, 20 visits",
            Bench.Milliseconds(() => SinceFit.Decide(series, 20_000, 20_000 + 19 * 75, WatchRules.Default), 40), "promise", 5, "ms");

        var many = Enumerable.Range(0, SeriesCount).Select(Regular).ToArray();
        Fit(many);
        var watch = Stopwatch.StartNew();
        Fit(many);
        var perMinute = SeriesCount / watch.Elapsed.TotalMinutes;
        Bench.Print("trends: series of 30 points fitted, two threads", perMinute, "promise", 100_000, "per minute");

        var one = Bench.Milliseconds(() => { foreach (var s in many.AsSpan(0, PackageCount)) One(s); }, 5) / PackageCount;
        var values = string.Join('\n', many.Take(PackageCount).Select(s => string.Join(' ', s.Select(o => o.Value.ToString("R", CultureInfo.InvariantCulture)))));
        Bench.Print("trends: one fit of 30 points with q estimated and the last level", one, "R StructTS, local linear trend with q free",
            Package("Rscript", ["-e", StructTs], values), "ms");
        Bench.Print("trends: one fit of 30 points with q estimated and the last level", one, "statsmodels UnobservedComponents, smooth trend",
            Package("/usr/bin/python3", ["-c", Statsmodels], values), "ms");
    }

    static void Fit(Observation[][] many) => Parallel.ForEach(many, new ParallelOptions { MaxDegreeOfParallelism = 2 }, One);

    static void One(Observation[] series)
    {
        var trend = TrendFit.Fit(series, NoiseLayers.None);
        _ = trend.Level(trend.LastDay);
    }

    static WatchedSeries[] Horse()
    {
        string[] measures =
            ["slope-left", "slope-right", "opening", "width@100", "half-area-left@100", "half-area-right@100", "skew-slope", "skew-shape", "width@60", "width@150", "fill-left", "fill-right"];
        var random = new Random(3);
        return
        [
            .. from station in SimulatedHorse.Stations
               from measure in measures
               let noise = WatchRules.Default.NoiseOf(measure)!.At(60)
               select new WatchedSeries(
                   measure, station, "mm",
                   [.. Enumerable.Range(0, 40).Select(k => new Observation(
                       20_000 + k / 2 * 75, 60 + Math.Sqrt(noise.TraceSd * noise.TraceSd + noise.Layers.VisitSd * noise.Layers.VisitSd) * Draw.Normal(random), noise.TraceSd,
                       k / 2 % 6 == 5 ? "bob" : "ann"))],
                   noise.Layers, WatchRules.Default.ThresholdOf(measure) ?? new(5)),
        ];
    }

    static Observation[] Regular(int seed)
    {
        var random = new Random(seed);
        var (level, slope) = (45.0, 0.0);
        var series = new Observation[SeriesLength];
        for (var i = 0; i < SeriesLength; i++)
        {
            slope += 0.3 * Draw.Normal(random);
            level += slope;
            series[i] = new(i, level + Draw.Normal(random), 1);
        }
        return series;
    }

    // The noise is known (variance 1) and the level has none of its own: the same model, the same single unknown.
    const string StructTs = """
        m <- as.matrix(read.table(file("stdin")))
        fit <- function(v) StructTS(ts(v), type = "trend", fixed = c(0, NA, 1))
        invisible(fit(m[1, ]))
        t <- system.time(for (i in seq_len(nrow(m))) fit(m[i, ]))[["elapsed"]]
        cat(1000 * t / nrow(m))
        """;

    const string Statsmodels = """
        import sys, time, warnings
        import numpy as np
        from statsmodels.tsa.statespace.structural import UnobservedComponents
        warnings.simplefilter("ignore")
        m = np.loadtxt(sys.stdin)
        def fit(v):
            model = UnobservedComponents(v, "smooth trend")
            with model.fix_params({"sigma2.irregular": 1.0}):
                model.fit(disp=False)
        fit(m[0])
        start = time.perf_counter()
        for v in m: fit(v)
        print(1000 * (time.perf_counter() - start) / len(m))
        """;

    /// <summary>Milliseconds a fit as the package itself measures them, after one fit to warm up; null where it is not installed.</summary>
    static double? Package(string program, string[] arguments, string input)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, arguments) { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true })!;
            process.StandardInput.Write(input);
            process.StandardInput.Close();
            var answer = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode == 0) return double.Parse(answer, CultureInfo.InvariantCulture);
            Console.Error.WriteLine($"{program} ended with {process.ExitCode}: is the package installed (Debian: r-base-core, python3-statsmodels)?");
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Console.Error.WriteLine($"{program} is not installed here (Debian: r-base-core, python3-statsmodels): no comparison.");
        }
        return null;
    }
}
