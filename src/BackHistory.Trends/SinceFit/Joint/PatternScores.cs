using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Trends;

/// <summary>
/// The size of one pattern at each visit: the generalised least squares fit of its loadings to the values of that visit, in thresholds, with its variance.
/// The scores of a pattern are a series of one number; nothing else of the visit bears on it.
/// </summary>
internal sealed class PatternScores
{
    internal readonly record struct Score(double Day, double Value, double Variance, int Hands);

    internal required IReadOnlyList<Score> Visits { get; init; }
    internal required double PersonVariance { get; init; }

    internal static PatternScores Of(WatchedPattern pattern, VisitTable table, IReadOnlyList<WatchedSeries> series, MovementPrior movement)
    {
        var scores = new List<Score>(table.Days.Length);
        double personVariance = 0;
        Span<int> members = stackalloc int[pattern.Series.Length];
        for (var v = 0; v < table.Days.Length; v++)
        {
            var count = 0;
            for (var m = 0; m < pattern.Series.Length; m++) if (table.Cells[v][pattern.Series[m]].Measured) members[count++] = m;
            if (count == 0) continue;
            var (score, person) = Fit(pattern, members[..count], table, v, series, movement);
            scores.Add(score);
            personVariance += person;
        }
        return new() { Visits = scores, PersonVariance = scores.Count > 0 ? personVariance / scores.Count : 0 };
    }

    static (Score Score, double PersonVariance) Fit(
        WatchedPattern pattern, ReadOnlySpan<int> members, VisitTable table, int visit, IReadOnlyList<WatchedSeries> series, MovementPrior movement)
    {
        var cells = table.Cells[visit];
        var n = members.Length;
        var hands = cells[pattern.Series[members[0]]].Hands;
        if (n == 1)
        {
            var only = cells[pattern.Series[members[0]]];
            var loading = pattern.Loadings[members[0]];
            return (new(table.Days[visit], only.Value / loading, only.Variance / (loading * loading), hands),
                table.PersonVariance[pattern.Series[members[0]]] / (loading * loading));
        }
        var noise = Matrix<double>.Build.Dense(n, n);
        var loadings = Vector<double>.Build.Dense(n);
        for (var a = 0; a < n; a++)
        {
            loadings[a] = pattern.Loadings[members[a]];
            if (cells[pattern.Series[members[a]]].Hands != hands) hands = VisitTable.Unnamed;
            for (var b = 0; b < n; b++)
                noise[a, b] = Correlation(pattern, members[a], members[b], series, movement)
                    * Math.Sqrt(cells[pattern.Series[members[a]]].Variance * cells[pattern.Series[members[b]]].Variance);
        }
        var weights = noise.Cholesky().Solve(loadings);
        var variance = 1 / weights.DotProduct(loadings);
        double value = 0, person = 0;
        for (var a = 0; a < n; a++)
        {
            value += variance * weights[a] * cells[pattern.Series[members[a]]].Value;
            for (var b = 0; b < n; b++)
                person += variance * variance * weights[a] * weights[b] * Correlation(pattern, members[a], members[b], series, movement)
                    * Math.Sqrt(table.PersonVariance[pattern.Series[members[a]]] * table.PersonVariance[pattern.Series[members[b]]]);
        }
        return (new(table.Days[visit], value, variance, hands), person);
    }

    static double Correlation(WatchedPattern pattern, int a, int b, IReadOnlyList<WatchedSeries> series, MovementPrior movement)
    {
        if (a == b) return 1;
        var (one, two) = (series[pattern.Series[a]], series[pattern.Series[b]]);
        if (one.Station is null || two.Station is null) return 0;
        var size = movement.WholeBack + (string.Equals(one.Station, two.Station, StringComparison.Ordinal) ? movement.SameStation : 0);
        return size * Math.Sign(pattern.Loadings[a] * pattern.Loadings[b]);
    }
}
