namespace BackHistory.Shape.Smoothing;

/// <summary>
/// L·D·Lᵀ of a symmetric positive definite matrix with three bands beside the diagonal. [k][i] is the entry that couples rows i and i + k.
/// </summary>
internal sealed class BandedFactor(int capacity)
{
    private readonly double[] d = new double[capacity],
        l1 = new double[capacity],
        l2 = new double[capacity],
        l3 = new double[capacity];
    private int size;

    /// <summary>Factors A + λB, both given by their bands.</summary>
    internal void Factor(double[][] a, double[][] b, double lambda, int count)
    {
        size = count;
        double[] a0 = a[0],
            a1 = a[1],
            a2 = a[2],
            a3 = a[3],
            b0 = b[0],
            b1 = b[1],
            b2 = b[2],
            b3 = b[3];
        for (var i = 0; i < count; i++)
        {
            double e0 = a0[i] + lambda * b0[i],
                e1 = a1[i] + lambda * b1[i],
                e2 = a2[i] + lambda * b2[i],
                e3 = a3[i] + lambda * b3[i];
            if (i >= 1)
            {
                var w = l1[i - 1] * d[i - 1];
                e0 -= w * l1[i - 1];
                e1 -= w * l2[i - 1];
                e2 -= w * l3[i - 1];
            }
            if (i >= 2)
            {
                var w = l2[i - 2] * d[i - 2];
                e0 -= w * l2[i - 2];
                e1 -= w * l3[i - 2];
            }
            if (i >= 3)
                e0 -= l3[i - 3] * d[i - 3] * l3[i - 3];
            d[i] = e0;
            // Bands run out at the end of the matrix because the given ones are zero there.
            (l1[i], l2[i], l3[i]) = (e1 / e0, e2 / e0, e3 / e0);
        }
    }

    /// <summary>Solves in place for two right-hand sides at once.</summary>
    internal void Solve(Span<double> x, Span<double> y)
    {
        Forward(x);
        Forward(y);
        for (var i = size - 1; i >= 0; i--)
        {
            double vx = x[i] / d[i],
                vy = y[i] / d[i];
            if (i + 1 < size)
            {
                vx -= l1[i] * x[i + 1];
                vy -= l1[i] * y[i + 1];
            }
            if (i + 2 < size)
            {
                vx -= l2[i] * x[i + 2];
                vy -= l2[i] * y[i + 2];
            }
            if (i + 3 < size)
            {
                vx -= l3[i] * x[i + 3];
                vy -= l3[i] * y[i + 3];
            }
            (x[i], y[i]) = (vx, vy);
        }
    }

    private void Forward(Span<double> x)
    {
        for (var i = 0; i < size; i++)
        {
            var v = x[i];
            if (i >= 1)
                v -= l1[i - 1] * x[i - 1];
            if (i >= 2)
                v -= l2[i - 2] * x[i - 2];
            if (i >= 3)
                v -= l3[i - 3] * x[i - 3];
            x[i] = v;
        }
    }

    /// <summary>Natural logarithm of the determinant of A.</summary>
    internal double LogDeterminant()
    {
        // A logarithm for every eight pivots: so few neither overflow nor vanish.
        double sum = 0,
            product = 1;
        for (var i = 0; i < size; i++)
        {
            product *= d[i];
            if (i % 8 != 7)
                continue;
            sum += Math.Log(product);
            product = 1;
        }
        return sum + Math.Log(product);
    }

    /// <summary>vᵀA⁻¹v; overwrites v.</summary>
    internal double InverseForm(Span<double> v)
    {
        Forward(v);
        double sum = 0;
        for (var i = 0; i < size; i++)
            sum += v[i] * v[i] / d[i];
        return sum;
    }

    /// <summary>
    /// Trace of A⁻¹B for a B of the same bands, from the central bands of the inverse alone (Hutchinson &amp; de Hoog 1985,
    /// Numer. Math. 47:99–106).
    /// </summary>
    internal double TraceOfInverseTimes(double[][] b)
    {
        double[] b0 = b[0],
            b1 = b[1],
            b2 = b[2],
            b3 = b[3];
        // Entries of the inverse in the rows and columns i + 1 … i + 3, from the last row upwards.
        double s11 = 0,
            s12 = 0,
            s13 = 0,
            s22 = 0,
            s23 = 0,
            s33 = 0,
            trace = 0;
        for (var i = size - 1; i >= 0; i--)
        {
            double p = l1[i],
                q = l2[i],
                r = l3[i];
            var t1 = -(p * s11 + q * s12 + r * s13);
            var t2 = -(p * s12 + q * s22 + r * s23);
            var t3 = -(p * s13 + q * s23 + r * s33);
            var t0 = 1 / d[i] - (p * t1 + q * t2 + r * t3);
            trace += t0 * b0[i] + 2 * (t1 * b1[i] + t2 * b2[i] + t3 * b3[i]);
            (s33, s23, s22, s13, s12, s11) = (s22, s12, s11, t2, t1, t0);
        }
        return trace;
    }
}
