namespace BackHistory.Shape;

/// <summary>The smoothed curve of a registered tracing with what the smoothing did.</summary>
/// <param name="Parameters">where on the curve each point belongs</param>
/// <param name="Fit">the fit behind the curve, over the same parameter; null when the points were interpolated</param>
/// <param name="EffectiveParameters">trace of the smoother of one coordinate</param>
/// <param name="Residual">root mean square distance of the points from the curve, mm</param>
internal sealed record Smoothed(PlaneSpline Curve, double[] Parameters, PenalisedFit? Fit, double EffectiveParameters, double Residual);

/// <summary>
/// From points to a curve. Exact points are interpolated over chord length. Noisy ones are smoothed by penalised B-splines in four passes:
/// each pass gives every point the parameter of its foot on the curve of the pass before, so that the noise of the points no longer moves
/// them along it, and eases the penalty where that curve bent, so that a ridge may stay sharp while the flanks stay smooth. λ minimises RSS
/// + 1.8·noise²·edf: Mallows' Cp for the noise across the curve, which alone is left, would have 2, but follows a hollow less.
/// </summary>
internal static class Smoother
{
    private const int Passes = 3;
    private const double PenaltyOnParameters = 1.8;

    /// <summary>Breakpoints lie this many standard deviations of the noise apart, but never much closer than the points.</summary>
    private const double StepInNoise = 3, StepInSpacing = 0.7;

    internal static Smoothed Smooth(Registered tracing)
    {
        if (tracing.Noise == 0) return Interpolate(tracing.X, tracing.Y);
        var (x, y, noise) = (tracing.X, tracing.Y, tracing.Noise);
        var t = Parameters.OfAveragedChord(x, y, noise);
        var spacing = t[^1] / (t.Length - 1);
        var step = Math.Max(StepInNoise * noise, StepInSpacing * spacing);
        var capacity = (int)(1.2 * t[^1] / step) + 16;
        var fit = new PenalisedFit(capacity + 3);
        // The first curve only has to be near: its λ is what later passes find on a back of middling shape.
        var lambda = 1000 * Math.Pow(noise * noise * spacing, 0.8);
        fit.Load(Over(t, step, capacity), t, x, y);
        fit.Weigh([]);
        fit.Solve(lambda);
        for (var pass = 0; pass < Passes; pass++)
        {
            var bends = Bends.Of(fit);
            Parameters.MoveToFeet(fit, x, y, t);
            var basis = Over(t, step, capacity);
            fit.Load(basis, t, x, y);
            fit.Weigh(bends.WeightsOn(basis));
            var (least, most) = fit.LambdaRange;
            lambda = Math.Exp(LambdaSearch.Least(log =>
            {
                fit.Solve(Math.Exp(log));
                return fit.ResidualSquares() + PenaltyOnParameters * noise * noise * fit.EffectiveParameters();
            }, Math.Log(lambda), Math.Log(least), Math.Log(most)));
            fit.Solve(lambda);
        }
        return new Smoothed(fit.Curve(), t, fit, fit.EffectiveParameters(), Math.Sqrt(fit.ResidualSquares() / t.Length));
    }

    private static Smoothed Interpolate(double[] x, double[] y)
    {
        var t = Parameters.OfChord(x, y);
        return new(new PlaneSpline(t, x, y, NotAKnot.SecondDerivatives(t, x), NotAKnot.SecondDerivatives(t, y)), t, null, t.Length, 0);
    }

    private static CubicBasis Over(double[] t, double step, int most)
    {
        double from = t.Min(), to = t.Max();
        // A whole number of steps must not hang on the last bit: the mirrored tracing has to get as many.
        var intervals = Math.Clamp((int)Math.Ceiling((to - from) / step - 1e-6), 4, most);
        return new CubicBasis(from, (to - from) / intervals, intervals);
    }
}
