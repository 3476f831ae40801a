namespace BackHistory.Trends.Series;

/// <summary>
/// How the true value wanders between visits: slope driven by white noise of intensity <paramref name="Q"/> [unit²/day³] (integrated Wiener
/// process), level by white noise of intensity <paramref name="LevelQ"/> [unit²/day]. Both start diffuse; without a slope the level alone
/// does.
/// </summary>
/// <param name="Annual">With an annual cycle: two regressors beside the level, cosine and sine of the year.</param>
internal readonly record struct DriftProcess(double Q, double LevelQ = 0, bool WithSlope = true, bool Annual = false)
{
    internal const double YearDays = 365.25;

    internal static (double Cos, double Sin) PhaseOf(double day)
    {
        var angle = 2 * Math.PI * day / YearDays;
        return (Math.Cos(angle), Math.Sin(angle));
    }
}
