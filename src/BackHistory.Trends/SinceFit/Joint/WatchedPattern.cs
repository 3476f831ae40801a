using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>A pattern as it applies to the series at hand.</summary>
internal sealed record WatchedPattern(string Name, string? Station, ChangePattern? Rule, int[] Series, double[] Loadings, double Weight)
{
    /// <summary>Name of the pattern of a single measure.</summary>
    internal const string Alone = "alone";

    /// <summary>The largest loading: at size 1/reach the first of its measures is at its threshold.</summary>
    internal double Reach { get; } = Loadings.Max(Math.Abs);

    /// <summary>How many measures move when the pattern happens.</summary>
    internal int Loaded { get; } = Loadings.Count(l => l != 0);

    /// <summary>Patterns of the rules and one for every measure by itself; the weights sum to 1.</summary>
    /// <param name="thresholds">Of each series, in its unit.</param>
    internal static WatchedPattern[] From(IReadOnlyList<WatchedSeries> series, double[] thresholds, WatchRules rules)
    {
        var stations = series.Select(s => s.Station).OfType<string>().Distinct(StringComparer.Ordinal).ToList();
        var found = new List<WatchedPattern>();
        foreach (var rule in rules.Patterns)
        {
            if (rule.Scope == PatternScope.Together)
                Add(
                    Of(
                        rule,
                        null,
                        s => rule.Stations is null || s.Station is null || rule.Stations.Contains(s.Station, StringComparer.Ordinal)
                    )
                );
            else
                foreach (var station in stations)
                    Add(Of(rule, station, s => string.Equals(s.Station, station, StringComparison.Ordinal)));
        }
        var shared = found.Sum(p => p.Weight);
        var single = shared > 0 ? rules.Movement.SingleShare : 1;
        for (var i = 0; i < found.Count; i++)
            found[i] = found[i] with { Weight = found[i].Weight / shared * (1 - single) };
        var alone = Enumerable.Range(0, series.Count).Where(i => !IsDerived(series[i], series, rules)).ToList();
        foreach (var i in alone)
            found.Add(new(Alone, series[i].Station, null, [i], [1], single / alone.Count));
        return [.. found];

        void Add(IEnumerable<WatchedPattern> patterns) => found.AddRange(patterns);

        IEnumerable<WatchedPattern> Of(ChangePattern rule, string? station, Func<WatchedSeries, bool> at)
        {
            var members = new List<int>();
            var loadings = new List<double>();
            for (var i = 0; i < series.Count; i++)
            {
                if (!at(series[i]))
                    continue;
                foreach (var loading in rule.Loadings)
                {
                    if (!MeasureKey.Matches(loading.Measure, series[i].Measure))
                        continue;
                    members.Add(i);
                    loadings.Add(loading.Loading);
                    break;
                }
            }
            if (loadings.TrueForAll(l => l == 0))
                return [];
            var ways = rule.Deformation is { } deformation
                ? FromContours(deformation, members, loadings)
                :
                [
                    [.. loadings],
                ];
            return ways.Select(way => new WatchedPattern(rule.Name, station, rule, [.. members], way, rule.Weight / ways.Count));
        }

        // The same deformation at every station; the measure that it moves furthest in limits gives the size.
        List<double[]> FromContours(Deformation deformation, List<int> members, List<double> loadings)
        {
            var gains = members.ConvertAll(i =>
                thresholds[i] > 0 && double.IsFinite(thresholds[i]) ? series[i].Contour?.Of(deformation) : null
            );
            var ways = new List<double[]>();
            for (var w = 0; w < gains.Max(g => g?.Count ?? 1); w++)
            {
                double[] moved = [.. gains.Select((g, m) => g is null ? 0 : g[w] / thresholds[members[m]])];
                var most = moved.Max(Math.Abs);
                ways.Add([.. gains.Select((g, m) => g is null || most == 0 ? loadings[m] : moved[m] / most)]);
            }
            return ways;
        }
    }

    /// <summary>Whether it says nothing beyond others that are watched at its station.</summary>
    internal static bool IsDerived(WatchedSeries one, IReadOnlyList<WatchedSeries> all, WatchRules rules) =>
        rules.Derived.Any(d =>
            string.Equals(d.Measure, one.Measure, StringComparison.Ordinal)
            && d.Parts.All(part =>
                all.Any(s =>
                    string.Equals(s.Measure, part, StringComparison.Ordinal)
                    && string.Equals(s.Station, one.Station, StringComparison.Ordinal)
                )
            )
        );
}
