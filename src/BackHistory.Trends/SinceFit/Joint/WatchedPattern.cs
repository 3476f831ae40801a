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
    internal static WatchedPattern[] From(IReadOnlyList<WatchedSeries> series, WatchRules rules)
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

        void Add(WatchedPattern? pattern)
        {
            if (pattern is not null)
                found.Add(pattern);
        }

        WatchedPattern? Of(ChangePattern rule, string? station, Func<WatchedSeries, bool> at)
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
            return loadings.TrueForAll(l => l == 0) ? null : new(rule.Name, station, rule, [.. members], [.. loadings], rule.Weight);
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
