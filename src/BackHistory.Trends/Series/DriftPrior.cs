namespace BackHistory.Trends.Series;

/// <summary>What is known of the drift intensity q before a series is seen: ln q ~ N(ln <paramref name="Median"/>,
/// <paramref name="LogSd"/>²).</summary>
/// <param name="Median">m, in unit²/day³, above zero.</param>
/// <param name="LogSd">Standard deviation of ln q (method.md section 6: 2).</param>
public sealed record DriftPrior(double Median, double LogSd = 2)
{
    /// <summary>Without ten horses to learn from: m = 3·v/180³, the q that moves a back by one observation's noise in 180 days.</summary>
    /// <param name="medianVariance">Median variance of an observation, visit and trace layers without person, in unit².</param>
    public static DriftPrior RuleOfThumb(double medianVariance) => new(3 * medianVariance / (180.0 * 180 * 180));
}
