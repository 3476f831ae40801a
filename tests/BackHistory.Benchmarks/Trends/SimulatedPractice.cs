using BackHistory.Trends.Learning;
using BackHistory.Trends.Rules;

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
        return One(
            draw < 0.6 ? Fate.Steady
                : draw < 0.74 ? Fate.ShoulderOpens
                : draw < 0.87 ? Fate.LosesOneSide
                : Fate.Drifts,
            seed
        );
    }

    /// <summary>The default rules with what horses teach that are not judged afterwards.</summary>
    internal static WatchRules Learn(int horses, int seed)
    {
        var visits = Enumerable.Range(0, horses).Select(h => Mixed(seed + h).Visits);
        return WatchRules.Default with
        {
            Learned = PriorLearning.Learn([.. visits.Select(v => new FittedPeriod(v.Series, v.Days[0], v.Days[^1]))], WatchRules.Default),
        };
    }

    internal static void ForEach(int from, int count, Action<int> body) =>
        Parallel.For(from, from + count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, body);
}
