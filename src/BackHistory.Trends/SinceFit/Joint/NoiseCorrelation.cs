using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>How the noise of one visit is shared between the measures of a pattern, factored once for each set of measures that visits
/// have in common.</summary>
internal sealed class NoiseCorrelation
{
    readonly double[,] _correlation;
    readonly Dictionary<string, double[]> _factors = new(StringComparer.Ordinal);

    internal NoiseCorrelation(WatchedPattern pattern, IReadOnlyList<WatchedSeries> series, VisitTable table, MovementPrior movement)
    {
        var n = pattern.Series.Length;
        _correlation = new double[n, n];
        for (var a = 0; a < n; a++)
        for (var b = 0; b < n; b++)
            _correlation[a, b] = a == b ? 1 : Between(pattern.Series[a], pattern.Series[b], series, table, movement);
    }

    internal double this[int a, int b] => _correlation[a, b];

    /// <summary>Solves C u = rhs over the given members.</summary>
    internal void Solve(ReadOnlySpan<int> members, ReadOnlySpan<double> rhs, Span<double> u)
    {
        var n = members.Length;
        var factor = Factor(members);
        for (var i = 0; i < n; i++)
        {
            var sum = rhs[i];
            for (var k = 0; k < i; k++)
                sum -= factor[i * n + k] * u[k];
            u[i] = sum / factor[i * n + i];
        }
        for (var i = n - 1; i >= 0; i--)
        {
            var sum = u[i];
            for (var k = i + 1; k < n; k++)
                sum -= factor[k * n + i] * u[k];
            u[i] = sum / factor[i * n + i];
        }
    }

    double[] Factor(ReadOnlySpan<int> members)
    {
        var key = string.Create(
            members.Length,
            members,
            static (text, m) =>
            {
                for (var i = 0; i < m.Length; i++)
                    text[i] = (char)m[i];
            }
        );
        if (_factors.TryGetValue(key, out var factor))
            return factor;
        var n = members.Length;
        factor = new double[n * n];
        for (var i = 0; i < n; i++)
        for (var j = 0; j <= i; j++)
        {
            var sum = _correlation[members[i], members[j]];
            for (var k = 0; k < j; k++)
                sum -= factor[i * n + k] * factor[j * n + k];
            factor[i * n + j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-12)) : sum / factor[j * n + j];
        }
        _factors[key] = factor;
        return factor;
    }

    static double Between(int a, int b, IReadOnlyList<WatchedSeries> series, VisitTable table, MovementPrior movement)
    {
        var sign = table.Breathes[a] * table.Breathes[b];
        if (sign == 0)
            return 0;
        // What opens one side and closes the other: a horse that leans, a sheet that was held askew.
        var lean = table.Sides[a] * table.Sides[b] * movement.WholeLean;
        return sign
            * (
                movement.WholeBack
                + lean
                + (string.Equals(series[a].Station, series[b].Station, StringComparison.Ordinal) ? movement.SameStation : 0)
            );
    }
}
