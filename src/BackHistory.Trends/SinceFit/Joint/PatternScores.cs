namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// The size of one pattern at each visit: the generalised least squares fit of its loadings to all values of that visit, in thresholds,
/// with its variance. What the pattern leaves alone bears on it as well: it tells how far the visit leans and how the horse stood.
/// </summary>
internal sealed class PatternScores
{
    internal readonly record struct Score(double Day, double Value, double Variance, int Rater);

    internal required Score[] Visits { get; init; }

    /// <summary>Variance that a pair of hands brings to the scores.</summary>
    internal required double PersonVariance { get; init; }

    /// <summary>How far a measure scatters about its loading, as a part of it (rule of thumb): backs are no drawings.</summary>
    internal const double LoadingScatter = 0.25;

    internal static PatternScores Compare(WatchedPattern pattern, VisitTable table, VisitNoise noise)
    {
        Span<double> loadings = stackalloc double[table.PersonVariance.Length];
        loadings.Clear();
        for (var m = 0; m < pattern.Series.Length; m++)
            loadings[pattern.Series[m]] = pattern.Loadings[m];
        var known = new Dictionary<int, (double[] Weights, double Variance, double Person)>();
        var scores = new List<Score>(table.Days.Length);
        double personVariance = 0;
        for (var v = 0; v < table.Days.Length; v++)
        {
            var members = noise.MembersAt(v);
            if (!Speaks(loadings, members))
                continue;
            if (!known.TryGetValue(noise.Kind(v), out var fit))
            {
                var (weights, variance) = noise.WeightsFor(loadings, noise.Kind(v), pattern.Loaded == 1 ? 0 : LoadingScatter);
                known[noise.Kind(v)] = fit = (weights, variance, noise.PersonVariance(weights, noise.Kind(v)));
            }
            var cells = table.Cells[v];
            var (value, rater, first) = (0.0, VisitTable.Unnamed, true);
            for (var a = 0; a < members.Length; a++)
            {
                var cell = cells[members[a]];
                value += fit.Weights[a] * cell.Value;
                if (loadings[members[a]] == 0)
                    continue;
                rater = first || rater == cell.Rater ? cell.Rater : VisitTable.Unnamed;
                first = false;
            }
            scores.Add(new(table.Days[v], value, fit.Variance, rater));
            personVariance += fit.Person;
        }
        return new() { Visits = [.. scores], PersonVariance = scores.Count > 0 ? personVariance / scores.Count : 0 };
    }

    /// <summary>A visit that measured only what the pattern leaves alone says nothing of its size.</summary>
    static bool Speaks(ReadOnlySpan<double> loadings, ReadOnlySpan<int> members)
    {
        foreach (var i in members)
            if (loadings[i] != 0)
                return true;
        return false;
    }
}
