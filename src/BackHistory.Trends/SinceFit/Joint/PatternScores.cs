using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// The size of one pattern at each visit: the generalised least squares fit of its loadings to the values of that visit, in thresholds,
/// with its variance.
/// The scores of a pattern are a series of one number; nothing else of the visit bears on it.
/// </summary>
internal sealed class PatternScores
{
    internal readonly record struct Score(double Day, double Value, double Variance, int Rater);

    internal required Score[] Visits { get; init; }

    /// <summary>Variance that a pair of hands brings to the scores.</summary>
    internal required double PersonVariance { get; init; }

    internal static PatternScores Compare(
        WatchedPattern pattern,
        VisitTable table,
        IReadOnlyList<WatchedSeries> series,
        MovementPrior movement
    )
    {
        var correlation = new NoiseCorrelation(pattern, series, table, movement);
        var scores = new List<Score>(table.Days.Length);
        double personVariance = 0;
        Span<int> members = stackalloc int[pattern.Series.Length];
        for (var v = 0; v < table.Days.Length; v++)
        {
            var count = 0;
            for (var m = 0; m < pattern.Series.Length; m++)
                if (table.Cells[v][pattern.Series[m]].Measured)
                    members[count++] = m;
            if (!Speaks(pattern, members[..count]))
                continue;
            var (score, person) = Fit(pattern, members[..count], table, v, correlation);
            scores.Add(score);
            personVariance += person;
        }
        return new() { Visits = [.. scores], PersonVariance = scores.Count > 0 ? personVariance / scores.Count : 0 };
    }

    /// <summary>A visit that measured only what the pattern leaves alone says nothing of its size.</summary>
    static bool Speaks(WatchedPattern pattern, ReadOnlySpan<int> members)
    {
        foreach (var m in members)
            if (pattern.Loadings[m] != 0)
                return true;
        return false;
    }

    /// <summary>Weights solve (D C D) w = loadings with D the noise of each measure; with u = D w that is C u = D⁻¹ loadings.</summary>
    static (Score Score, double PersonVariance) Fit(
        WatchedPattern pattern,
        ReadOnlySpan<int> members,
        VisitTable table,
        int visit,
        NoiseCorrelation correlation
    )
    {
        var cells = table.Cells[visit];
        var n = members.Length;
        var rater = cells[pattern.Series[members[0]]].Rater;
        Span<double> scaled = stackalloc double[n],
            u = stackalloc double[n],
            person = stackalloc double[n];
        for (var a = 0; a < n; a++)
        {
            var cell = cells[pattern.Series[members[a]]];
            if (cell.Rater != rater)
                rater = VisitTable.Unnamed;
            scaled[a] = pattern.Loadings[members[a]] / Math.Sqrt(cell.Variance);
        }
        correlation.Solve(members, scaled, u);
        double precision = 0,
            value = 0,
            personVariance = 0;
        for (var a = 0; a < n; a++)
        {
            var i = pattern.Series[members[a]];
            var weight = u[a] / Math.Sqrt(cells[i].Variance);
            precision += u[a] * scaled[a];
            value += weight * cells[i].Value;
            person[a] = weight * Math.Sqrt(table.PersonVariance[i]);
        }
        for (var a = 0; a < n; a++)
        for (var b = 0; b < n; b++)
            personVariance += person[a] * person[b] * correlation[members[a], members[b]];
        return (new(table.Days[visit], value / precision, 1 / precision, rater), personVariance / (precision * precision));
    }
}
