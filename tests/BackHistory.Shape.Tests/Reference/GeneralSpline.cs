namespace BackHistory.Shape.Tests.Reference;

/// <summary>
/// A general smoothing spline that knows nothing of backs and not how noisy the points are: x(t) and y(t) over cumulative chord length,
/// natural cubic smoothing splines with a common λ of least generalised cross-validation, each parameter counted 1.4 times (Kim &amp; Gu
/// 2004, J. R. Stat. Soc. B 66:337–356). Shares no code with the smoother of the product.
/// </summary>
internal static class GeneralSpline
{
    private const double Counted = 1.4,
        SampleMillimetres = 1;

    /// <summary>The smoothed line as points at most 1 mm apart, in the order of the points given.</summary>
    internal static Point[] Smooth(IReadOnlyList<Point> points)
    {
        Point[] kept = [points[0], .. points.Zip(points.Skip(1)).Where(p => (p.Second - p.First).Length >= 0.1).Select(p => p.Second)];
        var n = kept.Length;
        double[] t = new double[n],
            x = [.. kept.Select(p => p.X)],
            y = [.. kept.Select(p => p.Y)];
        for (var i = 1; i < n; i++)
            t[i] = t[i - 1] + (kept[i] - kept[i - 1]).Length;
        var spline = new ReinschSpline(t);
        double[] gx = new double[n],
            gy = new double[n],
            xx = new double[n],
            yy = new double[n];
        var spacing = t[^1] / (n - 1);
        CrossValidation(Least(CrossValidation, Math.Log(spacing * spacing * spacing) - 8, 3 * Math.Log(t[^1]) + 6));
        return [.. Samples(t, gx, gy, xx, yy)];

        double CrossValidation(double logLambda)
        {
            spline.Factor(Math.Exp(logLambda));
            spline.Smooth(x, gx, xx);
            spline.Smooth(y, gy, yy);
            double squares = 0;
            for (var i = 0; i < n; i++)
                squares += (x[i] - gx[i]) * (x[i] - gx[i]) + (y[i] - gy[i]) * (y[i] - gy[i]);
            var left = 1 - Counted * spline.EffectiveParameters() / n;
            return left > 0 ? squares / (left * left) : double.PositiveInfinity;
        }
    }

    private static IEnumerable<Point> Samples(double[] t, double[] x, double[] y, double[] xx, double[] yy)
    {
        for (var i = 0; i + 1 < t.Length; i++)
        {
            var h = t[i + 1] - t[i];
            var steps = (int)Math.Ceiling(h / SampleMillimetres);
            for (var k = 0; k < steps; k++)
            {
                double b = (double)k / steps,
                    a = 1 - b,
                    p = (a * a * a - a) * h * h / 6,
                    q = (b * b * b - b) * h * h / 6;
                yield return new(a * x[i] + b * x[i + 1] + p * xx[i] + q * xx[i + 1], a * y[i] + b * y[i + 1] + p * yy[i] + q * yy[i + 1]);
            }
        }
        yield return new(x[^1], y[^1]);
    }

    /// <summary>The least of a function that may have several dips: a grid, then golden section around its best point.</summary>
    private static double Least(Func<double, double> f, double from, double to)
    {
        const int steps = 16;
        var width = (to - from) / steps;
        var best = Enumerable.Range(0, steps + 1).Select(k => from + k * width).MinBy(f);
        const double ratio = 0.6180339887498949;
        double low = best - width,
            high = best + width;
        double a = high - ratio * (high - low),
            b = low + ratio * (high - low),
            fa = f(a),
            fb = f(b);
        while (high - low > 0.02)
        {
            if (fa < fb)
            {
                (high, b, fb) = (b, a, fa);
                a = high - ratio * (high - low);
                fa = f(a);
            }
            else
            {
                (low, a, fa) = (a, b, fb);
                b = low + ratio * (high - low);
                fb = f(b);
            }
        }
        return (low + high) / 2;
    }
}
