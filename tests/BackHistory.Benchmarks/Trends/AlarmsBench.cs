using System.Globalization;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends;

/// <summary>
/// The promises of the decision, measured on simulated practices with known truth and printed beside the same figures for plain
/// comparison of two visits, against the minimal detectable change, a CUSUM at the same rate of false alarms, and a judge who knows the
/// true parameters.
/// </summary>
static class AlarmsBench
{
    const int Steady = 2000,
        Changed = 1000,
        Teachers = 300;

    /// <param name="pictures">Folder for the operating curves; null = none.</param>
    internal static IEnumerable<Figure> Run(string? pictures)
    {
        var rules = SimulatedPractice.Learn(Teachers, 70_000);
        foreach (var figure in FalseRefits(rules))
            yield return figure;
        var steady = Score(Fate.Steady, Steady, 1_000, rules);
        var opened = Score(Fate.ShoulderOpens, Changed, 200_000, rules);
        var lost = Score(Fate.LosesOneSide, Changed, 300_000, rules);
        foreach (var figure in Table(steady, opened, lost, rules))
            yield return figure;
        if (pictures is not null)
            OperatingCurves.Write(pictures, steady, opened, lost, rules);
        foreach (var figure in ForecastBench.Run(rules))
            yield return figure;
    }

    /// <summary>Steady horses as a practice lives with them: the state holds as rules say, and a refit sets the saddle to that
    /// visit.</summary>
    static IEnumerable<Figure> FalseRefits(WatchRules rules)
    {
        foreach (var tail in new[] { 0, 5 })
        {
            var gate = new Lock();
            double refits = 0,
                cautions = 0,
                years = 0;
            SimulatedPractice.ForEach(
                1_000,
                Steady,
                seed =>
                {
                    var visits = SimulatedPractice.One(Fate.Steady, seed, tail).Visits;
                    var series = visits.Series;
                    var (baseline, alarms, vet) = (visits.Days[0], 0, 0);
                    WatchState? before = null;
                    foreach (var day in visits.Days.Skip(1))
                    {
                        var decision = HorseJudge.Decide(series, baseline, day, rules, before);
                        before = decision.State;
                        if (decision.Caution is not null)
                            vet++;
                        if (decision.State != WatchState.Refit)
                            continue;
                        alarms++;
                        (baseline, before) = (day, null);
                    }
                    lock (gate)
                        (refits, cautions, years) = (refits + alarms, cautions + vet, years + visits.Days[^1] / 365.25);
                }
            );
            var noise = tail == 0 ? "normal noise" : $"Student t noise, {tail} df";
            yield return new($"alarms: false refits, {noise}", refits / years, "promise", 0.05, "per horse and year");
            yield return new($"alarms: false vet's cautions, {noise}", cautions / years, "none promised", null, "per horse and year");
        }
    }

    static List<ScoredHorse> Score(Fate fate, int count, int seed, WatchRules rules)
    {
        var gate = new Lock();
        var scored = new List<(int Seed, ScoredHorse Horse)>();
        SimulatedPractice.ForEach(
            seed,
            count,
            s =>
            {
                var one = SimulatedPractice.One(fate, s);
                var baseline = 0;
                if (fate != Fate.Steady)
                {
                    // The saddle was set at one of the visits before the change; two visits must follow its end.
                    var before = one.Visits.Days.Count(d => d <= one.Horse.Onset);
                    baseline = new Random(s).Next(before);
                    if (one.Visits.Days.Count(d => d >= one.Horse.ChangeComplete) < 2)
                        return;
                }
                var horse = ScoredHorse.Of(one, baseline, rules);
                lock (gate)
                    scored.Add((s, horse));
            }
        );
        return [.. scored.OrderBy(s => s.Seed).Select(s => s.Horse)];
    }

    static IEnumerable<Figure> Table(List<ScoredHorse> steady, List<ScoredHorse> opened, List<ScoredHorse> lost, WatchRules rules)
    {
        var ourRate = FalseAlarms.Rate(steady, Judge.Ours, rules.Bars.Refit);
        (Judge Judge, string Name, double Bar)[] judges =
        [
            (Judge.TwoVisits, "two raw visits against the limit", 1),
            (Judge.Detectable, "two raw visits against the detectable change", 1),
            .. new[]
            {
                (Judge.TwoVisits, "two raw visits, our rate"),
                (Judge.Detectable, "detectable change, our rate"),
                (Judge.CusumHalf, "CUSUM from half a limit, our rate"),
                (Judge.CusumOne, "CUSUM from one limit, our rate"),
                (Judge.CusumTwo, "CUSUM from two limits, our rate"),
                (Judge.Knowing, "judge who knows the parameters, our rate"),
            }.Select(j => (j.Item1, j.Item2, FalseAlarms.BarFor(steady, j.Item1, ourRate))),
        ];
        var cautionRate = FalseAlarms.Rate(steady, Judge.OursCaution, rules.VetCaution.Bar);
        Console.Error.WriteLine($"{"", -46}{"false/horse-year", 18}{"opens, 1st", 12}{"2nd", 8}{"one-sided, 1st", 16}{"2nd", 8}");
        var ours = Row("ours", Judge.Ours, rules.Bars.Refit);
        yield return new(
            "alarms: shoulder opens by twice the limit, refit by the first visit after",
            ours.Opened1,
            "promise, at least",
            0.90,
            "share"
        );
        yield return new(
            "alarms: shoulder opens by twice the limit, refit by the second visit after",
            ours.Opened2,
            "promise, at least",
            0.98,
            "share"
        );
        foreach (var (judge, name, bar) in judges)
        {
            var theirs = Row(name, judge, bar);
            yield return new("alarms: false refits until the first", ours.Rate, name, theirs.Rate, "per horse and year");
            yield return new(
                "alarms: shoulder opens by twice the limit, refit by the first visit after",
                ours.Opened1,
                name,
                theirs.Opened1,
                "share"
            );
            yield return new(
                "alarms: shoulder opens by twice the limit, refit by the second visit after",
                ours.Opened2,
                name,
                theirs.Opened2,
                "share"
            );
            yield return new("alarms: one-sided loss of 15 %, refit by the second visit after", ours.Lost2, name, theirs.Lost2, "share");
        }
        var caution = Row("our vet's caution", Judge.OursCaution, rules.VetCaution.Bar);
        var best = Row(
            "knowing judge's caution, our rate",
            Judge.KnowingCaution,
            FalseAlarms.BarFor(steady, Judge.KnowingCaution, cautionRate)
        );
        yield return new(
            "alarms: one-sided loss of 15 %, vet's caution by the second visit after",
            caution.Lost2,
            "promise, at least",
            0.90,
            "share"
        );
        yield return new(
            "alarms: one-sided loss of 15 %, vet's caution by the first visit after",
            caution.Lost1,
            "judge who knows the parameters, our rate",
            best.Lost1,
            "share"
        );
        yield return new(
            "alarms: one-sided loss of 15 %, vet's caution by the second visit after",
            caution.Lost2,
            "judge who knows the parameters, our rate",
            best.Lost2,
            "share"
        );

        (double Rate, double Opened1, double Opened2, double Lost1, double Lost2) Row(string name, Judge judge, double bar)
        {
            var row = (
                Rate: FalseAlarms.Rate(steady, judge, bar),
                Opened1: Share(opened, 1),
                Opened2: Share(opened, 2),
                Lost1: Share(lost, 1),
                Lost2: Share(lost, 2)
            );
            Console.Error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{name, -46}{row.Rate, 18:F4}{row.Opened1, 12:P1}{row.Opened2, 8:P1}{row.Lost1, 16:P1}{row.Lost2, 8:P1}"
                )
            );
            return row;

            double Share(List<ScoredHorse> horses, int visit) => horses.Average(h => h.AlarmBy(judge, bar, visit) ? 1.0 : 0);
        }
    }
}
