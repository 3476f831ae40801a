using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Learning;

/// <summary>
/// What many horses say together of how one measure drifts: the median m of the prior ln q ~ N(ln m, sd²) that makes all their series
/// likeliest (marginal likelihood, each horse's own q integrated out).
/// </summary>
static class DriftLearning
{
    const double Span = 14,
        Step = 0.5;

    /// <param name="series">The same measure of many horses (and of one station, or of all).</param>
    /// <param name="fromHorses">Fewer series of at least three visits teach nothing (method.md section 6: ten).</param>
    /// <param name="logSd">How far horses differ: the sd of ln q.</param>
    /// <returns>Null with too few series.</returns>
    internal static DriftPrior? Learn(IReadOnlyList<WatchedSeries> series, int fromHorses = 10, double logSd = 2)
    {
        var horses = series
            .Where(s => s.Observations.Count > 2)
            .Select(s => VisitData.From(s.Observations, s.Noise))
            .Where(d => d.DayCount > 2)
            .ToList();
        if (horses.Count < fromHorses)
            return null;
        var logScale = horses.Select(h => Math.Log(DriftPrior.RuleOfThumb(h.MedianVariance).Median)).Average();
        var grid = Grid(logScale);
        var likelihoods = horses.Select(h => Relative(grid, u => DriftSearch.LogLikelihood(h, Math.Exp(u)))).ToList();

        var best = (LogM: logScale, Sum: double.NegativeInfinity);
        for (var logM = logScale - Span + 4; logM <= logScale + Span - 4; logM += Step / 10)
        {
            double sum = 0;
            foreach (var likelihood in likelihoods)
                sum += Math.Log(Marginal(grid, likelihood, logM, logSd));
            if (sum > best.Sum)
                best = (logM, sum);
        }
        return new(Math.Exp(best.LogM), logSd);
    }

    static double[] Grid(double centre)
    {
        var grid = new double[(int)(2 * Span / Step) + 1];
        for (var i = 0; i < grid.Length; i++)
            grid[i] = centre - Span + i * Step;
        return grid;
    }

    static double[] Relative(double[] grid, Func<double, double> logLikelihood)
    {
        var values = Array.ConvertAll(grid, u => logLikelihood(u));
        var top = values.Max();
        return Array.ConvertAll(values, v => Math.Exp(v - top));
    }

    static double Marginal(double[] grid, double[] likelihood, double logM, double logSd)
    {
        double sum = 0;
        for (var i = 0; i < grid.Length; i++)
        {
            var z = (grid[i] - logM) / logSd;
            sum += likelihood[i] * Math.Exp(-z * z / 2);
        }
        return sum;
    }
}
