using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Caseload;

/// <summary>Refits to come, from every horse's own forecast.</summary>
public static class RefitForecast
{
    /// <param name="horses">Each horse's probability of being past its threshold now and after 1, 2, … months
    /// (<see cref="HorseDecision.PByMonth"/>).</param>
    /// <param name="from">Any day of the first month.</param>
    /// <returns>One entry a month; horses already past their threshold are this month's work and not counted again.</returns>
    public static IReadOnlyList<MonthForecast> ByMonth(IReadOnlyList<IReadOnlyList<double>> horses, DateOnly from, int months = 6)
    {
        var forecast = new List<MonthForecast>();
        for (var m = 1; m <= months; m++)
        {
            var crossing = new List<double>();
            foreach (var p in horses)
                if (p.Count > m && Math.Max(0, p[m] - p[m - 1]) is > 0 and var rise)
                    crossing.Add(rise);
            var (low, high) = Interval(crossing, 0.10);
            forecast.Add(new(new DateOnly(from.Year, from.Month, 1).AddMonths(m - 1), crossing.Sum(), low, high));
        }
        return forecast;
    }

    /// <summary>Quantiles of the sum of independent yes-or-no events with unequal chances (Poisson binomial), by adding one horse at a
    /// time; tails under 1e-12 are dropped.</summary>
    static (int Low, int High) Interval(List<double> chances, double tail)
    {
        var start = 0;
        List<double> density = [1];
        foreach (var p in chances)
        {
            density.Add(0);
            for (var k = density.Count - 1; k > 0; k--)
                density[k] = density[k] * (1 - p) + density[k - 1] * p;
            density[0] *= 1 - p;
            while (density[^1] < 1e-12 && density.Count > 1)
                density.RemoveAt(density.Count - 1);
            while (density[0] < 1e-12 && density.Count > 1)
            {
                density.RemoveAt(0);
                start++;
            }
        }
        return (start + Quantile(density, tail), start + Quantile(density, 1 - tail));
    }

    static int Quantile(List<double> density, double share)
    {
        double sum = 0;
        for (var k = 0; k < density.Count; k++)
        {
            sum += density[k];
            if (sum >= share)
                return k;
        }
        return density.Count - 1;
    }
}
