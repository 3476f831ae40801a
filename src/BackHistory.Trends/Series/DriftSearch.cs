namespace BackHistory.Trends.Series;

/// <summary>The posterior mode of ln q: a coarse walk brackets it, Brent's parabolas close in (Brent 1973, Algorithms for Minimization
/// without Derivatives).</summary>
internal static class DriftSearch
{
    const double Step = 1,
        Tolerance = 1e-4;

    /// <summary>Steps of the walk each way from the prior's centre: three of its standard deviations.</summary>
    const int Steps = 6;

    internal static double Mode(VisitData data, DriftPrior prior)
    {
        // Two visits are fitted exactly by a line whatever q is: only the prior speaks.
        return data.DayCount < 3 ? prior.Median : Mode(prior, q => LogLikelihood(data, q));
    }

    internal static double Mode(DriftPrior prior, Func<double, double> logLikelihood)
    {
        var centre = Math.Log(prior.Median);
        return Math.Exp(Maximum(u => logLikelihood(Math.Exp(u)) - (u - centre) * (u - centre) / (2 * prior.LogSd * prior.LogSd), centre));
    }

    internal static double LogLikelihood(VisitData data, double q) =>
        LineLikelihood.Serves(data) ? LineLikelihood.LogLikelihood(data, q) : DiffuseFilter.Run(data, new(q), []).LogLikelihood;

    /// <summary>The highest of the maxima that a walk in steps of <see cref="Step"/> from the prior's centre can see. Of few visits
    /// likelihood and prior can have a maximum each, and the one that is lower at the step can be the higher one between two.</summary>
    static double Maximum(Func<double, double> f, double centre)
    {
        // On as long as the far end still climbs: many observations can overrule the prior.
        var points = new List<(double X, double F)>();
        for (var k = -Steps; k <= Steps; k++)
            points.Add(At(centre + k * Step));
        while (points[0].F > points[1].F && points[0].X > centre - 60)
            points.Insert(0, At(points[0].X - Step));
        while (points[^1].F > points[^2].F && points[^1].X < centre + 60)
            points.Add(At(points[^1].X + Step));
        var best = points[0].F >= points[^1].F ? points[0] : points[^1];
        for (var i = 1; i < points.Count - 1; i++)
        {
            if (points[i].F < points[i - 1].F || points[i].F < points[i + 1].F)
                continue;
            var top = At(Brent(f, points[i - 1].X, points[i].X, points[i].F, points[i + 1].X));
            if (top.F > best.F)
                best = top;
        }

        return best.X;

        (double X, double F) At(double x) => (x, f(x));
    }

    static double Brent(Func<double, double> f, double low, double x, double fx, double high)
    {
        const double golden = 0.3819660112501051;
        double w = x,
            v = x,
            fw = fx,
            fv = fx,
            step = 0,
            stepBefore = 0;
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (Math.Abs(x - middle) <= 2 * Tolerance - (high - low) / 2)
                break;
            var parabola = false;
            if (Math.Abs(stepBefore) > Tolerance)
            {
                var r = (x - w) * (fx - fv);
                var s = (x - v) * (fx - fw);
                var p = (x - v) * s - (x - w) * r;
                var t = 2 * (s - r);
                if (t > 0)
                    p = -p;
                t = Math.Abs(t);
                if (Math.Abs(p) < Math.Abs(t * stepBefore / 2) && p > t * (low - x) && p < t * (high - x))
                {
                    (stepBefore, step) = (step, p / t);
                    parabola = true;
                }
            }
            if (!parabola)
            {
                stepBefore = x < middle ? high - x : low - x;
                step = golden * stepBefore;
            }
            var u = x + (Math.Abs(step) >= Tolerance ? step : Math.CopySign(Tolerance, step));
            var fu = f(u);
            if (fu >= fx)
            {
                if (u < x)
                    high = x;
                else
                    low = x;
                (v, fv, w, fw, x, fx) = (w, fw, x, fx, u, fu);
            }
            else
            {
                if (u < x)
                    low = u;
                else
                    high = u;
                if (fu >= fw || w == x)
                    (v, fv, w, fw) = (w, fw, u, fu);
                else if (fu >= fv || v == x || v == w)
                    (v, fv) = (u, fu);
            }
        }
        return x;
    }
}
