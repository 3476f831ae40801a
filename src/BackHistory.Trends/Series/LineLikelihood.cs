namespace BackHistory.Trends;

/// <summary>
/// The diffuse log-likelihood of the plain case (one entry a day, no hands of their own) as a function of q: the same arithmetic as
/// <see cref="DiffuseFilter"/> written out in scalars, because the search for q asks for it a dozen times a series.
/// </summary>
internal static class LineLikelihood
{
    internal static bool Serves(VisitData data) => data.People == 0 && !data.HasSharedDays;

    internal static double Of(VisitData data, double q)
    {
        var entries = data.Entries;
        double level = 0, slope = 0;
        double p11 = 0, p12 = 0, p22 = 0;
        double a0 = 1, a1 = 0, b0 = 0, b1 = 1;
        double s00 = 0, s01 = 0, s11 = 0, t0 = 0, t1 = 0, rss = 0;
        double logF = 0, product = 1;
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
            product *= f;
            if (product is > 1e200 or < 1e-200)
            {
                logF += Math.Log(product);
                product = 1;
            }
        }
        logF += Math.Log(product);
        var determinant = s00 * s11 - s01 * s01;
        rss -= (s11 * t0 * t0 - 2 * s01 * t0 * t1 + s00 * t1 * t1) / determinant;
        return -0.5 * (logF + rss + Math.Log(determinant) + (entries.Length - 2) * Math.Log(2 * Math.PI));
    }
}
