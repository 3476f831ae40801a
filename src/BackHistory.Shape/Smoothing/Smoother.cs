using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Smoothing;

/// <summary>The smoothed curve of a registered tracing with what the smoothing did.</summary>
/// <param name="Parameters">where on the curve each point belongs</param>
/// <param name="Fit">the fit behind the curve, over the same parameter; null when the points were interpolated</param>
/// <param name="EffectiveParameters">trace of the smoother of one coordinate</param>
/// <param name="Residual">root mean square distance of the points from the curve, mm</param>
/// <param name="Noise">standard deviation of the points across the curve, mm: as was said, or as they show where that is more</param>
internal sealed record Smoothed(
    PlaneSpline Curve,
    double[] Parameters,
    PenalisedFit? Fit,
    double EffectiveParameters,
    double Residual,
    double Noise
);

/// <summary>
/// From points to a curve. Exact points are interpolated over chord length. Noisy ones are smoothed by penalised B-splines in four
/// passes: each pass gives every point the parameter of its foot on the curve of the pass before, so that the noise of the points no
/// longer moves them along it, and eases the penalty where that curve bent, so that a ridge may stay sharp while the flanks stay smooth.
/// Both feed on the curve before: had that followed the noise, the next would all the more. So λ is the likeliest (<see
/// cref="MarginalLikelihood"/>) for the noise that the points show, which no scatter drives to a curve through all of them.
/// </summary>
internal static class Smoother
{
    private const int Passes = 3;

    /// <summary>Breakpoints lie this many standard deviations of the noise apart, but never much closer than the points.</summary>
    private const double StepInNoise = 3,
        StepInSpacing = 0.7;

    /// <summary>A nanometre: whoever says less says that the points are exact, and a penalty for it leaves the range of numbers.</summary>
    internal const double LeastNoise = 1e-6;

    internal static Smoothed Smooth(Registered tracing)
    {
        if (tracing.Noise < LeastNoise)
            return Interpolate(tracing.X, tracing.Y);
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
            var (bends, spent) = (Bends.From(fit), fit.EffectiveParameters());
            var shown = Shown(Parameters.MoveToFeet(fit, x, y, t), x.Length - spent, noise);
            var basis = Over(t, step, capacity);
            fit.Load(basis, t, x, y);
            fit.Weigh(bends.WeightsOn(basis));
            var (least, most) = fit.LambdaRange;
            lambda = Math.Exp(
                LambdaSearch.Least(
                    log =>
                    {
                        fit.Solve(Math.Exp(log));
                        return MarginalLikelihood.Criterion(fit, log, shown);
                    },
                    Math.Log(lambda),
                    Math.Log(least),
                    Math.Log(most)
                )
            );
            fit.Solve(lambda);
        }
        var (squares, parameters) = (fit.ResidualSquares(), fit.EffectiveParameters());
        return new Smoothed(fit.Curve(), t, fit, parameters, Math.Sqrt(squares / t.Length), Shown(squares, t.Length - parameters, noise));
    }

    /// <summary>
    /// Standard deviation of the points across a curve, mm: as they show it, but never less than was said: few points can lie close to a
    /// curve by chance, and a line may be drawn smoothly and still lie wrong.
    /// </summary>
    private static double Shown(double squares, double degrees, double said) =>
        degrees > 0 ? Math.Max(said, Math.Sqrt(squares / degrees)) : said;

    private static Smoothed Interpolate(double[] x, double[] y)
    {
        var t = Parameters.OfChord(x, y);
        return new(new PlaneSpline(t, x, y, NotAKnot.SecondDerivatives(t, x), NotAKnot.SecondDerivatives(t, y)), t, null, t.Length, 0, 0);
    }

    private static CubicBasis Over(double[] t, double step, int most)
    {
        double from = t.Min(),
            to = t.Max();
        // A whole number of steps must not hang on the last bit: the mirrored tracing has to get as many.
        var intervals = Math.Clamp((int)Math.Ceiling((to - from) / step - 1e-6), 4, most);
        return new CubicBasis(from, (to - from) / intervals, intervals);
    }
}
