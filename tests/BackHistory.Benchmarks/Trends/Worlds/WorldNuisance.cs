namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>What tracings show besides the back. Degrees and millimetres, standard deviations.</summary>
/// <param name="Lean">Roll of a whole visit about the horse's long axis; with it every station has a roll of its own, half a
/// degree.</param>
/// <param name="Misplaced">Of a station along the back, at each visit.</param>
/// <param name="StudentDf">Degrees of freedom of stance and hand; 0 = normal.</param>
sealed record WorldNuisance(double Lean = 0.8, double Misplaced = 20, double StudentDf = 0)
{
    internal double StationLean => Lean > 0 ? 0.5 : 0;
}
