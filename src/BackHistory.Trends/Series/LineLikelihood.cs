namespace BackHistory.Trends.Series;

/// <summary>
/// The diffuse log-likelihood as a function of q where no day's offset is shared by several entries: the arithmetic of
/// <see cref="DiffuseFilter"/> written out in scalars with normal equations for start and hands, because the search for q asks for it a
/// dozen times a series.
/// </summary>
internal static class LineLikelihood
{
    /// <summary>Beyond a handful of hands the general filter is no slower.</summary>
    const int MostHands = 6;

    internal static bool Serves(VisitData data) => data.People <= MostHands && !data.HasSharedDays;

    internal static double LogLikelihood(VisitData data, double q) => data.People == 0 ? OneRater(data.Entries, q) : SeveralRaters(data, q);

    static double OneRater(VisitData.Entry[] entries, double q)
    {
        double level = 0,
            slope = 0;
        double p11 = 0,
            p12 = 0,
            p22 = 0;
        double a0 = 1,
            a1 = 0,
            b0 = 0,
            b1 = 1;
        double s00 = 0,
            s01 = 0,
            s11 = 0,
            t0 = 0,
            t1 = 0,
            rss = 0;
        double logF = 0,
            product = 1;
        var before = entries[0].Day;
        for (var i = 0; i < entries.Length; i++)
        {
            ref readonly var entry = ref entries[i];
            var d = entry.Day - before;
            before = entry.Day;
            if (d > 0)
            {
                level += d * slope;
                a0 += d * b0;
                a1 += d * b1;
                p11 += d * (2 * p12 + d * p22) + q * d * d * d / 3;
                p12 += d * p22 + q * d * d / 2;
                p22 += q * d;
            }
            var f = p11 + entry.Variance;
            var w = 1 / f;
            var v = entry.Y - level;
            s00 += a0 * a0 * w;
            s01 += a0 * a1 * w;
            s11 += a1 * a1 * w;
            t0 += a0 * v * w;
            t1 += a1 * v * w;
            rss += v * v * w;
            var (k1, k2) = (p11 * w, p12 * w);
            level += k1 * v;
            slope += k2 * v;
            (b0, b1) = (b0 - k2 * a0, b1 - k2 * a1);
            (a0, a1) = (a0 - k1 * a0, a1 - k1 * a1);
            p22 -= p12 * k2;
            p12 *= entry.Variance * w;
            p11 *= entry.Variance * w;
            Accumulate(f, ref product, ref logF);
        }
        logF += Math.Log(product);
        var determinant = s00 * s11 - s01 * s01;
        rss -= (s11 * t0 * t0 - 2 * s01 * t0 * t1 + s00 * t1 * t1) / determinant;
        return -0.5 * (logF + rss + Math.Log(determinant) + (entries.Length - 2) * Math.Log(2 * Math.PI));
    }

    static double SeveralRaters(VisitData data, double q)
    {
        var columns = 2 + data.People;
        Span<double> level = stackalloc double[columns + 1],
            slope = stackalloc double[columns + 1],
            row = stackalloc double[columns + 1];
        Span<double> normal = stackalloc double[(columns + 1) * (columns + 1)];
        level.Clear();
        slope.Clear();
        normal.Clear();
        // The last column carries the value itself: the regressors' effects are subtracted from it.
        level[0] = slope[1] = 1;
        for (var p = 2; p < columns; p++)
            normal[p * (columns + 1) + p] = 1 / data.PersonVariance;
        double p11 = 0,
            p12 = 0,
            p22 = 0,
            logF = 0,
            product = 1;
        var before = data.FirstDay;
        foreach (ref readonly var entry in data.Entries.AsSpan())
        {
            var d = entry.Day - before;
            before = entry.Day;
            if (d > 0)
            {
                for (var c = 0; c <= columns; c++)
                    level[c] += d * slope[c];
                p11 += d * (2 * p12 + d * p22) + q * d * d * d / 3;
                p12 += d * p22 + q * d * d / 2;
                p22 += q * d;
            }
            var f = p11 + entry.Variance;
            var w = 1 / f;
            level.CopyTo(row);
            row[columns] = entry.Y - level[columns];
            if (entry.Person != VisitData.Nobody)
                row[2 + entry.Person] += 1;
            for (var i = 0; i <= columns; i++)
            for (var j = 0; j <= i; j++)
                normal[i * (columns + 1) + j] += row[i] * row[j] * w;
            var (k1, k2) = (p11 * w, p12 * w);
            for (var c = 0; c < columns; c++)
            {
                level[c] -= k1 * row[c];
                slope[c] -= k2 * row[c];
            }
            level[columns] += k1 * row[columns];
            slope[columns] += k2 * row[columns];
            p22 -= p12 * k2;
            p12 *= entry.Variance * w;
            p11 *= entry.Variance * w;
            Accumulate(f, ref product, ref logF);
        }
        logF += Math.Log(product);
        var (logDeterminant, rss) = Eliminate(normal, columns);
        return -0.5
            * (
                logF
                + rss
                + logDeterminant
                + data.People * Math.Log(data.PersonVariance)
                + (data.Entries.Length - 2) * Math.Log(2 * Math.PI)
            );
    }

    /// <summary>Cholesky of the normal equations bordered by the right-hand side: the last pivot squared is the residual sum of
    /// squares.</summary>
    static (double LogDeterminant, double Rss) Eliminate(Span<double> a, int columns)
    {
        var n = columns + 1;
        double logDeterminant = 0;
        for (var j = 0; j < n; j++)
        {
            var pivot = a[j * n + j];
            for (var k = 0; k < j; k++)
                pivot -= a[j * n + k] * a[j * n + k];
            if (j == columns)
                return (logDeterminant, pivot);
            logDeterminant += Math.Log(pivot);
            var root = Math.Sqrt(pivot);
            for (var i = j + 1; i < n; i++)
            {
                var sum = a[i * n + j];
                for (var k = 0; k < j; k++)
                    sum -= a[i * n + k] * a[j * n + k];
                a[i * n + j] = sum / root;
            }
        }
        return (logDeterminant, 0);
    }

    static void Accumulate(double f, ref double product, ref double logF)
    {
        product *= f;
        if (product is <= 1e200 and >= 1e-200)
            return;
        logF += Math.Log(product);
        product = 1;
    }
}
