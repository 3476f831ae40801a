using System.Globalization;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.Rules;

namespace BackHistory.Benchmarks.Trends;

/// <summary>False alarms against detection as each judge's bar moves: a table for other programs and two pictures.</summary>
static class OperatingCurves
{
    /// <summary>Beyond this the curves lie under the upper edge.</summary>
    const double MostFalse = 0.25;
    const int Bars = 40;

    static readonly (Judge Judge, string Name)[] Drawn =
    [
        (Judge.Ours, "this service"),
        (Judge.TwoVisits, "two visits against the limit"),
        (Judge.Detectable, "two visits against the detectable change"),
        (Judge.CusumTwo, "CUSUM"),
        (Judge.Knowing, "judge who knows the parameters"),
    ];

    internal static void Write(string folder, List<ScoredHorse> steady, List<ScoredHorse> opened, List<ScoredHorse> lost, WatchRules rules)
    {
        Directory.CreateDirectory(folder);
        using (var csv = new StreamWriter(Path.Combine(folder, "alarms-operating-curve.csv")))
        {
            csv.WriteLine("judge,false_per_horse_year,opens_first,opens_second,loss_first,loss_second");
            foreach (var judge in Enum.GetValues<Judge>())
            foreach (var bar in BarsOf(steady, judge, 0.001, 10))
                csv.WriteLine(
                    string.Join(
                        ',',
                        new[]
                        {
                            FalseAlarms.Rate(steady, judge, bar),
                            Share(opened, judge, bar, 1),
                            Share(opened, judge, bar, 2),
                            Share(lost, judge, bar, 1),
                            Share(lost, judge, bar, 2),
                        }
                            .Select(v => v.ToString("G5", CultureInfo.InvariantCulture))
                            .Prepend(judge.ToString())
                    )
                );
        }
        Draw(
            folder,
            "alarms-shoulder-opens",
            steady,
            opened,
            1,
            rules,
            0.90,
            "Shoulder opens by twice the limit over six months; refit by the first visit after"
        );
        Draw(
            folder,
            "alarms-one-sided-loss",
            steady,
            lost,
            2,
            rules,
            0.90,
            "One side loses 15 % of its half area in three months; refit by the second visit after"
        );
        Console.Error.WriteLine($"Operating curves: {Path.GetFullPath(folder)}");
    }

    static void Draw(
        string folder,
        string name,
        List<ScoredHorse> steady,
        List<ScoredHorse> changed,
        int visit,
        WatchRules rules,
        double promise,
        string subject
    )
    {
        var use = Point(Judge.Ours, rules.Bars.Refit);
        var input = new OperatingCurveInput
        {
            Finding = string.Create(
                CultureInfo.InvariantCulture,
                $"{use.Detected:P0} found at {use.FalseAlarmsPerHorseYear:0.000} false alarms a horse and year"
            ),
            Subject = string.Create(
                CultureInfo.InvariantCulture,
                $"{subject}; {steady.Count} steady and {changed.Count} changed horses, simulated"
            ),
            Curves =
            [
                .. Drawn.Select(j => new OperatingCurve(
                    j.Name,
                    [
                        .. BarsOf(steady, j.Judge, 0.0005, MostFalse)
                            .Select(b => Point(j.Judge, b))
                            .Where(p => p.FalseAlarmsPerHorseYear <= MostFalse),
                    ],
                    j.Judge == Judge.Ours ? use : null
                )),
            ],
            PromisedFalseAlarms = 0.05,
            PromisedDetection = promise,
        };
        foreach (var (theme, words) in new[] { (ChartTheme.Light, "light"), (ChartTheme.Dark, "dark") })
        {
            var chart = OperatingCurveChart.Draw(input, theme, ChartSize.Page);
            File.WriteAllText(Path.Combine(folder, $"{name}-{words}.svg"), chart.ToSvg());
            File.WriteAllBytes(Path.Combine(folder, $"{name}-{words}.png"), chart.ToPng());
        }

        OperatingPoint Point(Judge judge, double bar) => new(FalseAlarms.Rate(steady, judge, bar), Share(changed, judge, bar, visit));
    }

    static IEnumerable<double> BarsOf(List<ScoredHorse> steady, Judge judge, double least, double most) =>
        Enumerable
            .Range(0, Bars)
            .Select(k => FalseAlarms.BarFor(steady, judge, least * Math.Pow(most / least, k / (Bars - 1.0))))
            .Distinct();

    static double Share(List<ScoredHorse> horses, Judge judge, double bar, int visit) =>
        horses.Average(h => h.AlarmBy(judge, bar, visit) ? 1.0 : 0);
}
