using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends;

/// <summary>Who judges.</summary>
enum Judge
{
    Ours,
    TwoVisits,
    Detectable,
    CusumHalf,
    CusumOne,
    CusumTwo,
    Knowing,
    OursCaution,
    KnowingCaution,
}

/// <summary>One horse as every judge sees it: a score at each visit since the baseline; an alarm is a score at or above the judge's
/// bar.</summary>
sealed record ScoredHorse(double[][] Scores, double[] Days, int Baseline, int FirstAfter)
{
    internal static ScoredHorse Of(SimulatedPractice.Case one, int baseline, WatchRules rules)
    {
        var (horse, visits) = one;
        var listening = rules with { VetCaution = rules.VetCaution with { Bar = 0 } };
        var (ours, caution) = (new double[visits.Days.Length], new double[visits.Days.Length]);
        var series = visits.Series;
        for (var v = baseline + 1; v < visits.Days.Length; v++)
        {
            var decision = HorseJudge.Decide(series, visits.Days[baseline], visits.Days[v], listening);
            (ours[v], caution[v]) = (decision.POneWay!.Value, decision.Caution?.P ?? 0);
        }
        var (refit, loss) = KnowingJudge.LogOdds(horse, visits, baseline);
        return new(
            [
                ours,
                PlainAlarms.AgainstThreshold(visits, baseline),
                PlainAlarms.AgainstDetectable(visits, baseline),
                PlainAlarms.CusumOf(visits, baseline, 0.5),
                PlainAlarms.CusumOf(visits, baseline, 1),
                PlainAlarms.CusumOf(visits, baseline, 2),
                refit,
                caution,
                loss,
            ],
            visits.Days,
            baseline,
            Array.FindIndex(visits.Days, d => d >= horse.ChangeComplete)
        );
    }

    double[] Of(Judge judge) => Scores[(int)judge];

    /// <summary>First alarm since the baseline, or −1.</summary>
    internal int FirstAlarm(Judge judge, double bar)
    {
        for (var v = Baseline + 1; v < Days.Length; v++)
            if (Of(judge)[v] >= bar)
                return v;
        return -1;
    }

    internal bool AlarmBy(Judge judge, double bar, int visitAfter) =>
        FirstAlarm(judge, bar) is >= 0 and var v && v < FirstAfter + visitAfter;

    internal IEnumerable<double> Candidates(Judge judge) => Of(judge).Skip(Baseline + 1).Where(double.IsFinite);
}

/// <summary>False alarms a horse and year, until the first.</summary>
static class FalseAlarms
{
    internal static double Rate(IReadOnlyList<ScoredHorse> steady, Judge judge, double bar)
    {
        double alarms = 0,
            years = 0;
        foreach (var horse in steady)
        {
            var first = horse.FirstAlarm(judge, bar);
            if (first >= 0)
                alarms++;
            years += (horse.Days[first >= 0 ? first : horse.Days.Length - 1] - horse.Days[horse.Baseline]) / 365.25;
        }
        return alarms / years;
    }

    /// <summary>The lowest bar that keeps the rate.</summary>
    internal static double BarFor(IReadOnlyList<ScoredHorse> steady, Judge judge, double rate)
    {
        var bars = steady.SelectMany(h => h.Candidates(judge)).Distinct().OrderDescending().ToArray();
        int low = 0,
            high = bars.Length - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (Rate(steady, judge, bars[middle]) <= rate)
                low = middle;
            else
                high = middle - 1;
        }
        return bars[low];
    }
}
