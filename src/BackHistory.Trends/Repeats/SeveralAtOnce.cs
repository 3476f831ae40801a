using MathNet.Numerics.Distributions;

namespace BackHistory.Trends.Repeats;

/// <summary>What chance alone does where many measures are looked at together.</summary>
public static class SeveralAtOnce
{
    /// <summary>
    /// The bound, in standard deviations, that none of <paramref name="count"/> independent differences passes 95 times in 100 where
    /// nothing has changed (Šidák 1967, "Rectangular confidence regions for the means of multivariate normal distributions", from memory).
    /// Measures of one tracing go together, which makes the bound a little too wide and never too narrow (the same paper).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than one.</exception>
    public static double Bound(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        return Normal.InvCDF(0, 1, (1 + Math.Pow(0.95, 1.0 / count)) / 2);
    }
}
