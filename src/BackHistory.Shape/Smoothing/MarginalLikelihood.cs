namespace BackHistory.Shape.Smoothing;

/// <summary>
/// How well a penalty explains the points: minus twice the logarithm of their restricted likelihood when the curve is drawn from the
/// prior that the penalty stands for (Wahba 1985, Ann. Stat. 13:1378–1402), the prior from which standard errors come. A curve through
/// every point is infinitely unlikely under it, however the points scatter; Mallows' Cp prefers that curve as soon as they scatter a
/// third more than said.
/// </summary>
internal static class MarginalLikelihood
{
    /// <summary>
    /// The penalty works on both coordinates, the noise that is left only across the curve: between one and two count. A larger number
    /// smooths creases away, a smaller one follows the noise (simulated).
    /// </summary>
    private const double Coordinates = 1.7;

    /// <summary>A straight line costs the penalty nothing: two coefficients of each coordinate are free.</summary>
    private const int Free = 2;

    /// <summary>Least for the likeliest λ.</summary>
    /// <param name="fit">solved with that λ</param>
    /// <param name="noise">standard deviation of the points across the curve, mm</param>
    internal static double Criterion(PenalisedFit fit, double logLambda, double noise) =>
        fit.Minimum() / (noise * noise) + Coordinates * (fit.LogDeterminant() - (fit.Basis.Count - Free) * logLambda);
}
