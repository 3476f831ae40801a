using BackHistory.Trends.Series;

namespace BackHistory.Trends.Repeats;

/// <summary>What repeated measurements say about the hand that takes them; a figure that the table cannot give is null.</summary>
/// <param name="WithinSd">Within-subject standard deviation, one-way analysis of variance (Bland and Altman 1996, BMJ 313:744).</param>
/// <param name="Df">Its degrees of freedom.</param>
/// <param name="MinimalDetectable">1.96·√2·<paramref name="WithinSd"/>: two single measurements differ by less 95 times in 100 without
/// any change.</param>
/// <param name="Icc11">Intraclass correlation, raters drawn anew for each subject (Shrout and Fleiss 1979, Psychol. Bull. 86:420).</param>
/// <param name="Icc21">The same raters, drawn from many, absolute agreement.</param>
/// <param name="Icc31">The same fixed raters, consistency.</param>
public sealed record RepeatabilityResult(double? WithinSd, int Df, double? MinimalDetectable, double? Icc11, double? Icc21, double? Icc31);

public static class Repeatability
{
    /// <param name="subjects">A row a subject, a column a rater or a repeat; rows may differ in length. Intraclass correlations need a
    /// full table of at least two by two and are not clipped to 0…1.</param>
    public static RepeatabilityResult Of(IReadOnlyList<IReadOnlyList<double>> subjects)
    {
        double withinSquares = 0;
        var df = 0;
        foreach (var row in subjects)
        {
            if (row.Count < 2)
                continue;
            withinSquares += SquaresAboutMean(row);
            df += row.Count - 1;
        }
        if (df == 0)
            return new(null, 0, null, null, null, null);
        var sd = Math.Sqrt(withinSquares / df);
        var (icc11, icc21, icc31) = Correlations(subjects, withinSquares / df);
        return new(sd, df, Normal.Z95 * Math.Sqrt(2) * sd, icc11, icc21, icc31);
    }

    static (double?, double?, double?) Correlations(IReadOnlyList<IReadOnlyList<double>> rows, double within)
    {
        var (n, k) = (rows.Count, rows[0].Count);
        if (n < 2 || k < 2 || rows.Any(r => r.Count != k))
            return default;
        // Differences from one value of the table lose no digits when every value carries the same large offset.
        var origin = rows[0][0];
        var rowMeans = rows.Select(r => r.Sum(v => v - origin) / k).ToArray();
        var columnMeans = Enumerable.Range(0, k).Select(c => rows.Sum(r => r[c] - origin) / n).ToArray();
        var between = k * SquaresAboutMean(rowMeans) / (n - 1);
        var raters = n * SquaresAboutMean(columnMeans) / (k - 1);
        var error = ErrorSquares(rows, origin, rowMeans, columnMeans) / ((n - 1) * (k - 1));
        return (
            Ratio(between - within, between + (k - 1) * within),
            Ratio(between - error, between + (k - 1) * error + k * (raters - error) / n),
            Ratio(between - error, between + (k - 1) * error)
        );
    }

    /// <summary>What is left of each value beyond its row and its column; by residuals, because the difference of sums loses digits
    /// beside a large bias.</summary>
    static double ErrorSquares(IReadOnlyList<IReadOnlyList<double>> rows, double origin, double[] rowMeans, double[] columnMeans)
    {
        var grand = rowMeans.Average();
        double squares = 0;
        for (var i = 0; i < rows.Count; i++)
        for (var j = 0; j < columnMeans.Length; j++)
        {
            var residual = rows[i][j] - origin - rowMeans[i] - (columnMeans[j] - grand);
            squares += residual * residual;
        }
        return squares;
    }

    static double? Ratio(double numerator, double denominator)
    {
        var ratio = numerator / denominator;
        return double.IsFinite(ratio) ? ratio : null;
    }

    /// <summary>Σ(v − mean)², measured from the first value so that equal values give exactly zero.</summary>
    internal static double SquaresAboutMean(IReadOnlyList<double> values)
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
