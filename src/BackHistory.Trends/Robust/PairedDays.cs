using BackHistory.Trends.Series;

namespace BackHistory.Trends.Robust;

/// <summary>What Theil–Sen and Mann–Kendall share: pairs of different UTC days, and the variance of Kendall's S with ties in either
/// variable.</summary>
internal static class PairedDays
{
    internal static Observation[] InOrder(IReadOnlyList<Observation> points) => [.. points.OrderBy(p => p.Day)];

    internal static int CountDays(Observation[] ordered)
    {
        var days = 1;
        for (var i = 1; i < ordered.Length; i++)
            if (!SameDay(ordered[i - 1], ordered[i]))
                days++;
        return days;
    }

    internal static bool SameDay(Observation a, Observation b) => Days.CalendarDay(a.Day) == Days.CalendarDay(b.Day);

    /// <summary>Var S under no trend, ties in the values and points of one day (Kendall 1970, Rank Correlation Methods, ch. 4).</summary>
    internal static double VarianceOfS(Observation[] ordered)
    {
        double n = ordered.Length;
        var days = Runs(ordered.Select(p => Days.CalendarDay(p.Day)));
        var values = Runs(ordered.Select(p => p.Value).Order());
        var variance =
            (n * (n - 1) * (2 * n + 5) - Sum(days, t => t * (t - 1) * (2 * t + 5)) - Sum(values, t => t * (t - 1) * (2 * t + 5))) / 18;
        if (n > 2)
            variance += Sum(days, t => t * (t - 1) * (t - 2)) * Sum(values, t => t * (t - 1) * (t - 2)) / (9 * n * (n - 1) * (n - 2));
        if (n > 1)
            variance += Sum(days, t => t * (t - 1)) * Sum(values, t => t * (t - 1)) / (2 * n * (n - 1));
        return variance;
    }

    internal static bool HasTies(Observation[] ordered) => Runs(ordered.Select(p => p.Value).Order()).Exists(t => t > 1);

    static double Sum(List<double> runs, Func<double, double> term)
    {
        double sum = 0;
        foreach (var t in runs)
            sum += term(t);
        return sum;
    }

    static List<double> Runs(IEnumerable<double> sorted)
    {
        var runs = new List<double>();
        var last = double.NaN;
        foreach (var v in sorted)
        {
            if (v == last)
                runs[^1]++;
            else
                runs.Add(1);
            last = v;
        }
        return runs;
    }
}
