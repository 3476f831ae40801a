namespace BackHistory.Trends.Series;

/// <summary>State given every observation: any linear combination of it has a mean and a variance.</summary>
internal sealed class Posterior
{
    readonly double[] _x,
        _p,
        _e;
    readonly int _size;
    readonly TriangularSolver _triangle;
    readonly double[] _beta;
    readonly double _centre;

    internal Posterior(
        double day,
        DriftProcess process,
        double[] x,
        double[] p,
        double[] e,
        int size,
        TriangularSolver triangle,
        double centre,
        double logLikelihood,
        double profileLogLikelihood
    )
    {
        (Day, Process, LogLikelihood, ProfileLogLikelihood) = (day, process, logLikelihood, profileLogLikelihood);
        (_x, _p, _e, _size, _triangle, _centre) = (x, p, e, size, triangle, centre);
        _beta = triangle.Solve();
    }

    /// <summary>The date at which the running state (level, slope) stands.</summary>
    internal double Day { get; }
    internal DriftProcess Process { get; }

    /// <summary>Diffuse (restricted): the regressors integrated out.</summary>
    internal double LogLikelihood { get; }

    /// <summary>At the best regressors: comparable between models with different regressors. Hands excluded, it counts no prior of
    /// theirs.</summary>
    internal double ProfileLogLikelihood { get; }
    internal int AnnualColumn { get; init; } = -1;
    internal int PeopleColumn { get; init; }

    /// <summary>The estimate of one regressor: start, hands, annual cycle.</summary>
    internal Uncertain Regressor(int column)
    {
        Span<double> unit = stackalloc double[_triangle.Columns];
        unit.Clear();
        unit[column] = 1;
        return new(_beta[column], Math.Sqrt(_triangle.Covariance(unit, unit)));
    }

    internal double RegressorCovariance(int a, int b)
    {
        Span<double> one = stackalloc double[_triangle.Columns],
            two = stackalloc double[_triangle.Columns];
        one.Clear();
        two.Clear();
        one[a] = two[b] = 1;
        return _triangle.Covariance(one, two);
    }

    /// <param name="levels">How many times the weights count a level, so that the centre is put back.</param>
    internal Uncertain EstimateOf(ReadOnlySpan<double> weights, double levels, double extraVariance = 0)
    {
        var value = levels * _centre;
        Span<double> effect = stackalloc double[_triangle.Columns];
        effect.Clear();
        for (var i = 0; i < _size; i++)
        {
            if (weights[i] == 0)
                continue;
            value += weights[i] * _x[i];
            for (var c = 0; c < effect.Length; c++)
                effect[c] += weights[i] * _e[i * effect.Length + c];
        }
        for (var c = 0; c < effect.Length; c++)
            value += effect[c] * _beta[c];
        var variance = extraVariance + Conditional(weights, weights) + _triangle.Covariance(effect, effect);
        return new(value, Math.Sqrt(Math.Max(0, variance)));
    }

    internal double Covariance(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        Span<double> ea = stackalloc double[_triangle.Columns],
            eb = stackalloc double[_triangle.Columns];
        ea.Clear();
        eb.Clear();
        for (var i = 0; i < _size; i++)
        for (var c = 0; c < ea.Length; c++)
        {
            ea[c] += a[i] * _e[i * ea.Length + c];
            eb[c] += b[i] * _e[i * ea.Length + c];
        }
        return Conditional(a, b) + _triangle.Covariance(ea, eb);
    }

    double Conditional(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (var i = 0; i < _size; i++)
        {
            if (a[i] == 0)
                continue;
            for (var j = 0; j < _size; j++)
                if (b[j] != 0)
                    sum += a[i] * b[j] * _p[i * _size + j];
        }
        return sum;
    }
}
