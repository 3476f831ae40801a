using BackHistory.Shape.Analysis;

namespace BackHistory.Service.Tracings;

/// <summary>How the picture under a tracing became millimetres, as the desk says it; what cannot be is as if nothing was said.</summary>
/// <param name="Known">Points whose place was known.</param>
/// <param name="Residual">Root mean square, mm; left out with no point to spare.</param>
/// <param name="Spread">Root mean square distance of the known points from their middle, mm.</param>
public sealed record SentScale(int? Known, double? Residual, double? Spread)
{
    private const int MostKnown = 1000;
    private const double Longest = 10_000;

    internal PictureScale? Taken =>
        Known is >= 2 and <= MostKnown and var known
        && Spread is >= 0 and <= Longest and var spread
        && Residual is null or (>= 0 and <= Longest)
            ? new PictureScale(known, Residual, spread)
            : null;
}
