using BackHistory.Trends;

namespace BackHistory.Benchmarks.Trends;

/// <summary>Many invented horses of known truth, and what their practice learns from them before it judges others.</summary>
static class SimulatedPractice
{
    internal sealed record Case(SimulatedHorse Horse, SimulatedVisits Visits);

    internal static Case One(Fate fate, int seed, double tailDf = 0)
    {
        var random = new Random(seed);
        var horse = new SimulatedHorse(fate, random);
        return new(horse, SimulatedVisits.Of(horse, random, tailDf));
    }

    /// <summary>Three in five do not change; the others open, waste on one side, or drift with work and rest.</summary>
    internal static Case Mixed(int seed)
    {
        var draw = new Random(seed ^ 0x5eed).NextDouble();
        return One(draw < 0.6 ? Fate.Steady : draw < 0.74 ? Fate.ShoulderOpens : draw < 0.87 ? Fate.LosesOneSide : Fate.Drifts, seed);
    }

    /// <summary>Rules and drift priors learned from horses that are not judged afterwards.</summary>
    internal static (WatchRules Rules, DriftPrior?[] Drift) Learn(int horses, int seed)
    {
        var cases = Enumerable.Range(0, horses).Select(h => Mixed(seed + h)).ToList();
        var periods = cases.Select(c => new FittedPeriod(c.Visits.Series, c.Visits.Days[0], c.Visits.Days[^1])).ToList();
        var rules = WatchRules.Default;
        rules = rules with { Movement = CorrelationLearning.Learn(periods, rules) };
        rules = MovementLearning.Learn(periods, rules);
        return (rules, [.. Enumerable.Range(0, Watchlist.Count).Select(i => DriftLearning.Learn([.. cases.Select(c => c.Visits.Series[i])]))]);
    }

    internal static WatchedSeries[] With(WatchedSeries[] series, DriftPrior?[] drift) => [.. series.Select((s, i) => s with { Prior = drift[i] })];

    internal static void ForEach(int from, int count, Action<int> body) =>
        Parallel.For(from, from + count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, body);
}
