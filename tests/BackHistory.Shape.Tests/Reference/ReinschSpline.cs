namespace BackHistory.Shape.Tests.Reference;

/// <summary>
/// The natural cubic smoothing spline over given knots as a linear smoother: minimises Σ(z − g)² + λ∫g″², solved by Reinsch's
/// pentadiagonal system (R + λQᵀQ)γ = Qᵀz, g = z − λQγ (Green &amp; Silverman 1994, section 2.3). Everything is linear in the number of
/// knots.
/// </summary>
internal sealed class ReinschSpline
{
    private readonly int n;
    private readonly double[] h;

    // Bands of R and of QᵀQ, and of the factor L D Lᵀ of R + λQᵀQ: [i] couples rows i, i+1, i+2.
    private readonly double[] r0,
        r1,
        k0,
        k1,
        k2,
        d,
        l1,
        l2;

    internal ReinschSpline(double[] t)
    {
        n = t.Length;
        h = new double[n - 1];
        for (var i = 0; i < n - 1; i++)
            h[i] = t[i + 1] - t[i];
        var m = n - 2;
        (r0, r1, k0, k1, k2) = (new double[m], new double[m], new double[m], new double[m], new double[m]);
        (d, l1, l2) = (new double[m], new double[m], new double[m]);
        for (var j = 0; j < m; j++)
        {
            var (a, b, c) = Column(j);
            r0[j] = (h[j] + h[j + 1]) / 3;
            r1[j] = h[j + 1] / 6;
            k0[j] = a * a + b * b + c * c;
            if (j + 1 < m)
                k1[j] = b * Column(j + 1).Before + c * Column(j + 1).At;
            if (j + 2 < m)
                k2[j] = c * Column(j + 2).Before;
        }
    }

    internal double Lambda { get; private set; } = double.NaN;

    /// <summary>The three entries of column j of Q, in rows j, j+1, j+2.</summary>
    private (double Before, double At, double After) Column(int j) => (1 / h[j], -1 / h[j] - 1 / h[j + 1], 1 / h[j + 1]);

    /// <summary>Factors R + λQᵀQ.</summary>
    internal void Factor(double lambda)
    {
        Lambda = lambda;
        var m = n - 2;
        for (var i = 0; i < m; i++)
        {
            var diagonal = r0[i] + lambda * k0[i];
            if (i >= 1)
                diagonal -= l1[i - 1] * l1[i - 1] * d[i - 1];
            if (i >= 2)
                diagonal -= l2[i - 2] * l2[i - 2] * d[i - 2];
            d[i] = diagonal;
            if (i + 1 < m)
                l1[i] = (r1[i] + lambda * k1[i] - (i >= 1 ? l1[i - 1] * d[i - 1] * l2[i - 1] : 0)) / diagonal;
            if (i + 2 < m)
                l2[i] = lambda * k2[i] / diagonal;
        }
    }

    /// <summary>Solves (R + λQᵀQ)u = u in place; length n − 2.</summary>
    internal void Solve(Span<double> u)
    {
        var m = n - 2;
        for (var i = 0; i < m; i++)
        {
            if (i >= 1)
                u[i] -= l1[i - 1] * u[i - 1];
            if (i >= 2)
                u[i] -= l2[i - 2] * u[i - 2];
        }
        for (var i = m - 1; i >= 0; i--)
        {
            u[i] /= d[i];
            if (i + 1 < m)
                u[i] -= l1[i] * u[i + 1];
            if (i + 2 < m)
                u[i] -= l2[i] * u[i + 2];
        }
    }

    /// <summary>Qᵀz, length n − 2.</summary>
    internal void SecondDifferences(ReadOnlySpan<double> z, Span<double> result)
    {
        for (var j = 0; j < n - 2; j++)
            result[j] = (z[j + 2] - z[j + 1]) / h[j + 1] - (z[j + 1] - z[j]) / h[j];
    }

    /// <summary>Adds <paramref name="factor"/>·Qγ to <paramref name="target"/>, length n.</summary>
    internal void AddQ(double factor, ReadOnlySpan<double> gamma, Span<double> target)
    {
        for (var j = 0; j < n - 2; j++)
        {
            var (a, b, c) = Column(j);
            target[j] += factor * a * gamma[j];
            target[j + 1] += factor * b * gamma[j];
            target[j + 2] += factor * c * gamma[j];
        }
    }

    /// <summary>Smooths <paramref name="z"/> with the λ of the last <see cref="Factor"/>: values and second derivatives at the knots
    /// (zero at both ends).</summary>
    internal void Smooth(ReadOnlySpan<double> z, Span<double> values, Span<double> seconds)
    {
        var gamma = seconds[1..(n - 1)];
        SecondDifferences(z, gamma);
        Solve(gamma);
        z.CopyTo(values);
        AddQ(-Lambda, gamma, values);
        seconds[0] = seconds[n - 1] = 0;
    }

    /// <summary>
    /// Trace of the smoother, from the central bands of the inverse (Hutchinson &amp; de Hoog 1985, Numer. Math. 47:99–106).
    /// </summary>
    internal double EffectiveParameters()
    {
        var m = n - 2;
        double trace = 0;
        // Entries (i+1,i+1), (i+1,i+2), (i+2,i+2) of the inverse, from the last row upwards.
        double s11 = 0,
            s12 = 0,
            s22 = 0;
        for (var i = m - 1; i >= 0; i--)
        {
            double a = i + 1 < m ? l1[i] : 0,
                b = i + 2 < m ? l2[i] : 0;
            var s01 = -a * s11 - b * s12;
            var s02 = -a * s12 - b * s22;
            var s00 = 1 / d[i] - a * s01 - b * s02;
            trace += s00 * k0[i] + 2 * (s01 * k1[i] + s02 * k2[i]);
            (s11, s12, s22) = (s00, s01, s11);
        }
        return n - Lambda * trace;
    }
}
