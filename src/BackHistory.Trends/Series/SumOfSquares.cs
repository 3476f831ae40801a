namespace BackHistory.Trends.Series;

/// <summary>Sums of squares that lose no digits.</summary>
internal static class SumOfSquares
{
    /// <summary>Σ(v − mean)², measured from the first value so that equal values give exactly zero.</summary>
    internal static double AboutMean(IReadOnlyList<double> values)
    {
        double sum = 0;
        foreach (var v in values)
            sum += v - values[0];
        var mean = sum / values.Count;
        double squares = 0;
        foreach (var v in values)
            squares += (v - values[0] - mean) * (v - values[0] - mean);
        return squares;
    }
}
