using BackHistory.Trends.Rules;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// Judges without a model of their own, to be held against: each gives a score to every visit since the fit, and an alarm is a score at
/// its bar. All see the mean of a visit's tracings, in limits from the visit of the fit.
/// </summary>
static class WorldJudges
{
    internal delegate double[] Judge(WorldVisits told);

    /// <summary>The measure that has moved furthest.</summary>
    internal static double[] SingleMeasure(WorldVisits told) => [.. Changes(told).Select(c => c.Count == 0 ? 0 : c.Values.Max(Math.Abs))];

    /// <summary>
    /// The furthest of four sums that a person would weigh: all widths against all slopes, each side's areas, the topline.
    /// </summary>
    internal static double[] WeightedSum(WorldVisits told) =>
        [
            .. Changes(told)
                .Select(c =>
                    new[]
                    {
                        Math.Abs(Mean(c, k => k.StartsWith("width", StringComparison.Ordinal)) - Mean(c, Slopes)) / 1.5,
                        Math.Abs(Mean(c, k => k.StartsWith("half-area-left", StringComparison.Ordinal))),
                        Math.Abs(Mean(c, k => k.StartsWith("half-area-right", StringComparison.Ordinal))),
                        Math.Abs(Mean(c, k => k == "topline-drop")),
                        Shoulder(c),
                    }.Max()
                ),
        ];

    /// <summary>Two-sided cumulative sums of every measure with half a limit of slack (Page 1954, Biometrika 41:100); the
    /// largest.</summary>
    internal static double[] Cusum(WorldVisits told)
    {
        var up = new Dictionary<(string, string?), double>();
        var down = new Dictionary<(string, string?), double>();
        var scores = new List<double>();
        foreach (var changes in Changes(told))
        {
            foreach (var (key, change) in changes)
            {
                up[key] = Math.Max(0, up.GetValueOrDefault(key) + change - 0.5);
                down[key] = Math.Max(0, down.GetValueOrDefault(key) - change - 0.5);
            }
            scores.Add(up.Values.Concat(down.Values).DefaultIfEmpty().Max());
        }
        return [.. scores];
    }

    static bool Slopes(string key) => key is "slope-left" or "slope-right";

    static double Shoulder(Dictionary<(string Key, string? Station), double> changes)
    {
        var here = changes.Where(c => c.Key.Station == "shoulder").ToDictionary(c => c.Key, c => c.Value);
        return Math.Abs(Mean(here, k => k.StartsWith("width", StringComparison.Ordinal)) - Mean(here, Slopes)) / 2;
    }

    static double Mean(Dictionary<(string Key, string? Station), double> changes, Func<string, bool> of) =>
        changes.Where(c => of(c.Key.Key)).Select(c => c.Value).DefaultIfEmpty().Average();

    /// <summary>Changes since the fit of every watched measure that both visits have, by visit after it.</summary>
    internal static IEnumerable<Dictionary<(string Key, string? Station), double>> Changes(WorldVisits told)
    {
        var fit = told.Values[WorldLife.Fit];
        for (var v = WorldLife.Fit + 1; v < told.Days.Length; v++)
        {
            var changes = new Dictionary<(string, string?), double>();
            foreach (var (key, value) in told.Values[v])
                if (fit.TryGetValue(key, out var was) && WatchRules.Default.ThresholdOf(key.Key) is { } limit)
                    changes[key] = (value - was) / limit.At(was);
            yield return changes;
        }
    }
}
