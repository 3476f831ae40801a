namespace BackHistory.Trends;

/// <summary>
/// How the true value wanders between visits: slope driven by white noise of intensity <paramref name="Q"/> [unit²/day³] (integrated Wiener
/// process), level by white noise of intensity <paramref name="LevelQ"/> [unit²/day]. Both start diffuse; without a slope the level alone does.
/// </summary>
internal readonly record struct DriftProcess(double Q, double LevelQ = 0, bool WithSlope = true);
