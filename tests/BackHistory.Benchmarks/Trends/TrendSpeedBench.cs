using System.Diagnostics;
using System.Globalization;
using BackHistory.Shape.Deformations;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends;

/// <summary>How long fits and decisions take, and how long the same fits take a general statistics package in the same run.</summary>
static class TrendSpeedBench
{
    const int SeriesLength = 30,
        SeriesCount = 20_000,
        PackageCount = 200;

    internal static IEnumerable<Figure> Run()
    {
        var series = Horse();
        yield return new(
            "trends: fit and decide one horse, 12 measures at 4 stations, 20 visits",
            Stopwatched.Milliseconds(() => HorseJudge.Decide(series, 20_000, 20_000 + 19 * 75, WatchRules.Default)),
            "promise, at most",
            5,
            "ms"
        );

        var many = Enumerable.Range(0, SeriesCount).Select(Regular).ToArray();
        Fit(many);
        var watch = Stopwatch.StartNew();
        Fit(many);
        yield return new(
            "trends: series of 30 points fitted, two threads",
            SeriesCount / watch.Elapsed.TotalMinutes,
            "promise, at least",
            100_000,
            "per minute"
        );

        var one =
            Stopwatched.Milliseconds(() =>
            {
                foreach (var s in many.AsSpan(0, PackageCount))
                    One(s);
            }) / PackageCount;
        var values = string.Join(
            '\n',
            many.Take(PackageCount).Select(s => string.Join(' ', s.Select(o => o.Value.ToString("R", CultureInfo.InvariantCulture))))
        );
        const string what = "trends: one fit of 30 points, q estimated";
        yield return new(what, one, "R StructTS, local linear trend", ScriptBaseline.R("struct_ts.R", values, "r-base-core"), "ms");
        yield return new(
            what,
            one,
            "statsmodels UnobservedComponents, smooth trend",
            ScriptBaseline.Python("smooth_trend.py", values, "python3-statsmodels"),
            "ms"
        );
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
        [
            "slope-left",
            "slope-right",
            "opening",
            "width@100",
            "half-area-left@100",
            "half-area-right@100",
            "skew-slope",
            "skew-shape",
            "width@60",
            "width@150",
            "fill-left",
            "fill-right",
        ];
        var random = new Random(3);
        return
        [
            .. from station in SimulatedHorse.Stations
            from measure in measures
            let noise = WatchRules.Default.NoiseOf(measure)!.At(60)
            select new WatchedSeries(
                measure,
                station,
                "mm",
                [
                    .. Enumerable
                        .Range(0, 40)
                        .Select(k => new Observation(
                            20_000 + k / 2 * 75,
                            60
                                + Math.Sqrt(noise.TraceSd * noise.TraceSd + noise.Layers.VisitSd * noise.Layers.VisitSd)
                                    * Draw.Normal(random),
                            noise.TraceSd,
                            k / 2 % 6 == 5 ? "bob" : "ann"
                        )),
                ],
                noise.Layers,
                WatchRules.Default.ThresholdOf(measure) ?? new(5)
            )
            {
                Contour = Middling.GainsOf(measure) is { } gains
                    ? new(
                        gains.Turn,
                        gains.FlanksTurn,
                        [gains.LeftMuscle.Inner, gains.LeftMuscle.Middle, gains.LeftMuscle.Outer, gains.LeftFlank],
                        [gains.RightMuscle.Inner, gains.RightMuscle.Middle, gains.RightMuscle.Outer, gains.RightFlank],
                        gains.Cover
                    )
                    : null,
            },
        ];
    }

    /// <summary>A back of middling slope: a horse that is traced has a contour, and its sides are weighed in several ways.</summary>
    static readonly SectionProfile Middling = SectionProfile.From(key =>
        key switch
        {
            "width@30" => 110,
            "width@60" => 170,
            "width@100" => 245,
            "width@150" => 320,
            _ => null,
        }
    )!;

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
}
