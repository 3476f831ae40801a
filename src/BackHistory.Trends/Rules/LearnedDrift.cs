using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>The drift that horses of the practice show in one measure at one station.</summary>
/// <param name="Median">m of <see cref="DriftPrior"/>, in the measure's unit²/day³.</param>
/// <param name="Horses">How many taught it.</param>
public sealed record LearnedDrift(string Measure, string? Station, double Median, double LogSd, int Horses)
{
    internal DriftPrior Prior => new(Median, LogSd);
}
