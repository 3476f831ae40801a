using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Tests.Reference;

/// <summary>
/// The smoother that ours must beat: x(t) and y(t) over cumulative chord length, natural cubic smoothing splines with the common λ that
/// minimises RSS + 4·noise²·edf (Mallows' Cp over both coordinates).
/// </summary>
internal static class MallowsSmoother
{
    internal static Smoothed Smooth(Registered tracing) =>
        SmoothBy(Parameters.OfChord(tracing.X, tracing.Y), tracing.X, tracing.Y, tracing.Noise);

    private static Smoothed SmoothBy(double[] t, double[] x, double[] y, double noise)
    {
        var n = t.Length;
        var system = new ReinschSpline(t);
        double[] gx = new double[n],
            gy = new double[n],
            xx = new double[n],
            yy = new double[n];
        var spacing = t[^1] / (n - 1);
        var best = Minimise(CpAt, Math.Log(spacing * spacing * spacing) - 8, 3 * Math.Log(t[^1]) + 6);
        CpAt(best);
        var edf = system.EffectiveParameters();
        return new Smoothed(new PlaneSpline(t, gx, gy, xx, yy), t, null, edf, Math.Sqrt(Rss() / n), noise);

        double CpAt(double logLambda)
        {
            system.Factor(Math.Exp(logLambda));
            system.Smooth(x, gx, xx);
            system.Smooth(y, gy, yy);
            return Rss() + 4 * noise * noise * system.EffectiveParameters();
        }

        double Rss()
        {
            double sum = 0;
            for (var i = 0; i < n; i++)
                sum += (x[i] - gx[i]) * (x[i] - gx[i]) + (y[i] - gy[i]) * (y[i] - gy[i]);
            return sum;
        }
    }

    /// <summary>The least of a function that may have several dips: a grid, then golden section around its best point.</summary>
    private static double Minimise(Func<double, double> f, double from, double to)
    {
        const int steps = 16;
        var width = (to - from) / steps;
        double best = from,
            least = double.PositiveInfinity;
        for (var k = 0; k <= steps; k++)
        {
            var value = f(from + k * width);
            if (value < least)
                (best, least) = (from + k * width, value);
        }
        const double ratio = 0.6180339887498949;
        double low = best - width,
            high = best + width;
        double a = high - ratio * (high - low),
            b = low + ratio * (high - low),
            fa = f(a),
            fb = f(b);
        while (high - low > 0.01)
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
