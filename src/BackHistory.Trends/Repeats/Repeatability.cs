using BackHistory.Trends.Series;

namespace BackHistory.Trends.Repeats;

public static class Repeatability
{
    /// <param name="subjects">A row a subject, a column a rater or a repeat; rows may differ in length. Intraclass correlations need a
    /// full table of at least two by two and are not clipped to 0…1.</param>
    public static RepeatabilityResult RepeatabilityOf(IReadOnlyList<IReadOnlyList<double>> subjects)
    {
        double withinSquares = 0;
        var df = 0;
        foreach (var row in subjects)
        {
            if (row.Count < 2)
                continue;
            withinSquares += SumOfSquares.AboutMean(row);
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
        var between = k * SumOfSquares.AboutMean(rowMeans) / (n - 1);
        var raters = n * SumOfSquares.AboutMean(columnMeans) / (k - 1);
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
}
