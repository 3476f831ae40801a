using MathNet.Numerics;

namespace BackHistory.Trends.Series;

/// <summary>The standard normal distribution.</summary>
internal static class Normal
{
    /// <summary>The 97.5 % point as it is quoted in the literature on agreement (Bland and Altman).</summary>
    internal const double Z95 = 1.96;

    internal static double Cdf(double z) => 0.5 * SpecialFunctions.Erfc(-z / Constants.Sqrt2);
}
