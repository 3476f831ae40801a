namespace BackHistory.Trends.Series;

/// <summary>Least squares by rotations, a row at a time: R b = z, without forming normal equations.</summary>
internal sealed class TriangularSolver(int columns)
{
    readonly double[] _r = new double[columns * columns];
    readonly double[] _z = new double[columns];

    internal int Columns => columns;
    internal double ResidualSumOfSquares { get; private set; }

    internal double LogDeterminant
    {
        get
        {
            double sum = 0;
            for (var i = 0; i < columns; i++)
                sum += Math.Log(Math.Abs(_r[i * columns + i]));
            return sum;
        }
    }

    /// <summary>Takes in one whitened row; <paramref name="row"/> is used up.</summary>
    internal void Add(Span<double> row, double rhs)
    {
        for (var i = 0; i < columns; i++)
        {
            if (row[i] == 0)
                continue;
            var a = _r[i * columns + i];
            var h = Hypotenuse(a, row[i]);
            var (c, s) = (a / h, row[i] / h);
            for (var j = i; j < columns; j++)
            {
                var (upper, lower) = (_r[i * columns + j], row[j]);
                _r[i * columns + j] = c * upper + s * lower;
                row[j] = c * lower - s * upper;
            }
            (_z[i], rhs) = (c * _z[i] + s * rhs, c * rhs - s * _z[i]);
        }
        ResidualSumOfSquares += rhs * rhs;
    }

    internal double[] Solve()
    {
        var b = new double[columns];
        for (var i = columns - 1; i >= 0; i--)
        {
            var sum = _z[i];
            for (var j = i + 1; j < columns; j++)
                sum -= _r[i * columns + j] * b[j];
            b[i] = sum / _r[i * columns + i];
        }
        return b;
    }

    /// <summary>gᵀ (RᵀR)⁻¹ h for two contrasts, by two forward substitutions.</summary>
    internal double Covariance(ReadOnlySpan<double> g, ReadOnlySpan<double> h)
    {
        Span<double> u = stackalloc double[columns],
            v = stackalloc double[columns];
        double sum = 0;
        for (var i = 0; i < columns; i++)
        {
            double a = g[i],
                b = h[i];
            for (var j = 0; j < i; j++)
            {
                a -= _r[j * columns + i] * u[j];
                b -= _r[j * columns + i] * v[j];
            }
            u[i] = a / _r[i * columns + i];
            v[i] = b / _r[i * columns + i];
            sum += u[i] * v[i];
        }
        return sum;
    }

    static double Hypotenuse(double a, double b)
    {
        var (x, y) = (Math.Abs(a), Math.Abs(b));
        if (x < y)
            (x, y) = (y, x);
        if (x == 0)
            return 0;
        var ratio = y / x;
        return x * Math.Sqrt(1 + ratio * ratio);
    }
}
