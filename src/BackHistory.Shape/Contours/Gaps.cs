using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Contours;

/// <summary>Stretches of a curve that no point was traced on and that are too long to be bridged by guessing.</summary>
internal sealed class Gaps
{
    internal const double FlaggedMillimetres = 25;
    internal const double UncoveredMillimetres = 60;

    private readonly List<(double From, double To)> uncovered = [];

    internal Gaps(Registered tracing, double[] parameters)
    {
        for (var i = 0; i + 1 < tracing.Count; i++)
            if ((tracing[i + 1] - tracing[i]).Length > UncoveredMillimetres)
                uncovered.Add((Math.Min(parameters[i], parameters[i + 1]), Math.Max(parameters[i], parameters[i + 1])));
    }

    /// <summary>True when the piece of curve between two parameters, or the single point of two equal ones, runs through a gap.</summary>
    internal bool Touch(double from, double to)
    {
        var (low, high) = from < to ? (from, to) : (to, from);
        foreach (var gap in uncovered)
            if (low < gap.To && high > gap.From)
                return true;
        return false;
    }
}
