namespace BackHistory.Shape.Smoothing;

/// <summary>
/// How strongly a fitted curve bends along its length, and the weights of the next penalty that follow from it. With weights (κ² +
/// κ₀²)^−1.25 the penalty works on less than the first power of curvature: one sharp bend costs less than the same turn spread out.
/// </summary>
internal sealed class Bends
{
    private const double Exponent = -1.25;

    /// <summary>Below this curvature (radius 200 mm) all bends count as flank, 1/mm.</summary>
    private const double FlankCurvature = 0.005;

    /// <summary>Curvature is averaged over a neighbourhood of this standard deviation, mm: a pilot cannot place a bend better.</summary>
    private const double BlurMillimetres = 10;

    /// <summary>Reached at a radius of 6 mm; less would only cost digits.</summary>
    private const double LeastWeight = 1e-3;

    private readonly double[] squared;
    private readonly CubicBasis basis;

    private Bends(double[] squared, CubicBasis basis) => (this.squared, this.basis) = (squared, basis);

    internal static Bends From(PenalisedFit fit)
    {
        var n = fit.Basis.Intervals + 1;
        var raw = new double[n];
        for (var i = 0; i < n; i++)
            raw[i] = fit.SquaredBend(i);
        return new Bends(Blur(raw, fit.Basis.Step), fit.Basis);
    }

    private static double[] Blur(double[] values, double step)
    {
        var reach = Math.Min(values.Length - 1, (int)Math.Ceiling(2.5 * BlurMillimetres / step));
        Span<double> kernel = stackalloc double[64];
        reach = Math.Min(reach, kernel.Length - 1);
        for (var k = 0; k <= reach; k++)
            kernel[k] = Math.Exp(-0.5 * Math.Pow(k * step / BlurMillimetres, 2));
        var blurred = new double[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            double sum = 0,
                weight = 0;
            for (var j = Math.Max(0, i - reach); j <= Math.Min(values.Length - 1, i + reach); j++)
            {
                var w = kernel[Math.Abs(i - j)];
                (sum, weight) = (sum + w * values[j], weight + w);
            }
            blurred[i] = sum / weight;
        }
        return blurred;
    }

    /// <summary>Weights on the intervals of another basis over the same parameter.</summary>
    internal double[] WeightsOn(CubicBasis next)
    {
        var weights = new double[next.Intervals];
        for (var i = 0; i < weights.Length; i++)
        {
            var (interval, within) = basis.Locate(next.From + (i + 0.5) * next.Step);
            within = Math.Clamp(within, 0, 1);
            var square = (1 - within) * squared[interval] + within * squared[interval + 1];
            weights[i] = Math.Max(LeastWeight, Math.Pow((square + FlankCurvature * FlankCurvature) / 1e-4, Exponent));
        }
        return weights;
    }
}
