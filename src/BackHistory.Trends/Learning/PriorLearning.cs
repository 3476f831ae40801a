using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Learning;

/// <summary>Everything a practice's horses teach together; a job runs it and stores the answer.</summary>
public static class PriorLearning
{
    /// <summary>Under so many stretches nothing is learned (method.md section 6).</summary>
    public const int FewestPeriods = 10;

    /// <param name="periods">Any number per horse; a horse's whole series may be given with each of its fits.</param>
    /// <param name="rules">As the practice set them; what was learned before is passed over.</param>
    /// <returns>Null with too few periods.</returns>
    public static LearnedPriors? Learn(IReadOnlyList<FittedPeriod> periods, WatchRules rules)
    {
        if (periods.Count < FewestPeriods)
            return null;
        var plain = rules with { Learned = null };
        var shared = CorrelationLearning.Learn(periods, plain);
        var noisy = plain with
        {
            Movement = plain.Movement with { SameStation = shared.SameStation, WholeBack = shared.WholeBack, WholeLean = shared.WholeLean },
        };
        var movement = MovementLearning.Learn(periods, noisy);
        return new(
            periods.Count,
            movement.Rate,
            movement.ScaleShares,
            movement.SingleShare,
            shared.SameStation,
            shared.WholeBack,
            movement.Patterns,
            Drifts(periods),
            shared.WholeLean
        );
    }

    static List<LearnedDrift> Drifts(IReadOnlyList<FittedPeriod> periods)
    {
        var learned = new List<LearnedDrift>();
        var groups = periods
            .SelectMany(p => p.Series)
            .DistinctBy(s => s.Observations, ReferenceEqualityComparer.Instance)
            .GroupBy(s => (s.Measure, s.Station))
            .OrderBy(g => g.Key.Measure, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Station, StringComparer.Ordinal);
        foreach (var group in groups)
        {
            var series = group.ToList();
            if (DriftLearning.Learn(series, FewestPeriods) is { } prior)
                learned.Add(new(group.Key.Measure, group.Key.Station, prior.Median, prior.LogSd, series.Count));
        }
        return learned;
    }
}
