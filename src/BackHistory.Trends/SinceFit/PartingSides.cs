using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>Whether left and right have parted company, and since when.</summary>
/// <param name="P">Probability that they have, even before the data (one to one).</param>
/// <param name="Since">The likeliest day (median) on which it began.</param>
/// <param name="From">95 in 100 that it began on or after this day.</param>
/// <param name="To">95 in 100 that it began by this day; the two together hold it 90 times in 100.</param>
/// <param name="Parted">How far right minus left has moved from its habit by the last visit.</param>
public sealed record Parting(double P, DateOnly Since, DateOnly From, DateOnly To, Uncertain Parted)
{
    const int Grid = 240;

    /// <summary>
    /// A steady difference between the sides is normal; a change of it is not. The difference right − left is constant up to an unknown
    /// day and from there on either steps or drifts; each day and shape is weighed by its marginal likelihood (flat level, size of change
    /// N(0, threshold²) — a drift reaches it in 180 days).
    /// </summary>
    /// <param name="threshold">The change of the difference that would matter, in the measure's unit.</param>
    /// <returns>Null with fewer than four visits that measured both sides.</returns>
    public static Parting? FindParting(
        IReadOnlyList<Observation> left,
        IReadOnlyList<Observation> right,
        NoiseLayers noise,
        double threshold
    )
    {
        var visits = Differences(left, right, noise);
        if (visits.Count < 4)
            return null;
        var (first, last) = (visits[0].Day, visits[^1].Day);
        var shapes = new List<(double Day, double LogRatio, Uncertain Parted)>();
        for (var g = 0; g < Grid; g++)
        {
            var day = first + (g + 0.5) / Grid * (last - first);
            shapes.Add(Weigh(visits, day, d => d > day ? 1 : 0, threshold));
            shapes.Add(Weigh(visits, day, d => Math.Max(0, d - day) / 180, threshold));
        }
        var top = shapes.Max(s => s.LogRatio);
        var sum = shapes.Sum(s => Math.Exp(s.LogRatio - top));
        var average = sum / shapes.Count * Math.Exp(Math.Min(top, 600));
        double mean = 0,
            square = 0;
        foreach (var s in shapes)
        {
            var weight = Math.Exp(s.LogRatio - top) / sum;
            mean += weight * s.Parted.Value;
            square += weight * (s.Parted.Value * s.Parted.Value + s.Parted.Sd * s.Parted.Sd);
        }
        return new(average / (1 + average), At(0.5), At(0.05), At(0.95), new(mean, Math.Sqrt(Math.Max(0, square - mean * mean))));

        DateOnly At(double share)
        {
            double passed = 0;
            foreach (var s in shapes)
            {
                passed += Math.Exp(s.LogRatio - top) / sum;
                if (passed >= share)
                    return Days.DateOf(s.Day) ?? DateOnly.MaxValue;
            }
            return Days.DateOf(last) ?? DateOnly.MaxValue;
        }
    }

    /// <summary>log of the marginal likelihood with a change of this shape over that without.</summary>
    static (double Day, double LogRatio, Uncertain Parted) Weigh(
        List<(double Day, double Value, double Variance)> visits,
        double day,
        Func<double, double> shape,
        double threshold
    )
    {
        double w = 0,
            wx = 0,
            wy = 0;
        foreach (var v in visits)
        {
            w += 1 / v.Variance;
            wx += shape(v.Day) / v.Variance;
            wy += v.Value / v.Variance;
        }
        double information = 0,
            score = 0;
        foreach (var v in visits)
        {
            var x = shape(v.Day) - wx / w;
            information += x * x / v.Variance;
            score += x * (v.Value - wy / w) / v.Variance;
        }
        var prior = threshold * threshold;
        var variance = 1 / (1 / prior + information);
        var reach = shape(visits[^1].Day);
        return (
            day,
            0.5 * (Math.Log(variance / prior) + variance * score * score),
            new(variance * score * reach, Math.Sqrt(variance) * reach)
        );
    }

    static List<(double Day, double Value, double Variance)> Differences(
        IReadOnlyList<Observation> left,
        IReadOnlyList<Observation> right,
        NoiseLayers noise
    )
    {
        var (l, r) = (Visits(left), Visits(right));
        var found = new List<(double, double, double)>();
        foreach (var (day, one) in l)
            if (r.TryGetValue(day, out var other))
                found.Add((day, other.Mean - one.Mean, one.Variance + other.Variance + 2 * noise.VisitSd * noise.VisitSd));
        return found;
    }

    static SortedDictionary<double, (double Mean, double Variance)> Visits(IReadOnlyList<Observation> observations)
    {
        var visits = new SortedDictionary<double, (double Mean, double Variance)>();
        foreach (var visit in observations.GroupBy(o => Days.CalendarDay(o.Day)))
        {
            var weight = visit.Sum(o => 1 / (o.Sd * o.Sd));
            visits[visit.Key] = (visit.Sum(o => o.Value / (o.Sd * o.Sd)) / weight, 1 / weight);
        }
        return visits;
    }
}
