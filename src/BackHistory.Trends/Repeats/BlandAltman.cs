using BackHistory.Trends.Series;

namespace BackHistory.Trends.Repeats;

public static class BlandAltman
{
    /// <returns>Null under two pairs.</returns>
    public static Agreement? AgreementOf(IReadOnlyList<(double First, double Second)> pairs)
    {
        if (pairs.Count < 2)
            return null;
        var differences = pairs.Select(p => p.First - p.Second).ToArray();
        var bias = differences.Average();
        var sd = Math.Sqrt(SumOfSquares.AboutMean(differences) / (pairs.Count - 1));
        return new(
            bias,
            sd,
            bias - Normal.Z95 * sd,
            bias + Normal.Z95 * sd,
            [.. pairs.Select(p => ((p.First + p.Second) / 2, p.First - p.Second))]
        );
    }
}
