using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Application.Trends;

/// <summary>The veterinary view, worked out from the same series as the decision. It describes shape; it does not diagnose.</summary>
public static class HorseCondition
{
    private const int StepDays = 7;

    /// <summary>The bar from which the sides are said to have parted; between even and this they may have.</summary>
    private const double Parted = 0.8,
        MayHaveParted = 0.5;

    public static ConditionAnswer Of(HorseRecord horse)
    {
        var rules = horse.Practice.WatchBy();
        var stations = Stations(horse);
        var series = MeasureViews
            .Condition.SelectMany(p =>
                p.AtStation
                    ? stations.SelectMany(s => p.Keys.Select(k => (Key: k, Station: (string?)s)))
                    : p.Keys.Select(k => (Key: k, Station: (string?)null))
            )
            .Select(k => Series.Of(horse.Visits, k.Key, k.Station, rules))
            .OfType<WatchedSeries>()
            .Select(s => One(s, horse.Today))
            .ToList();
        var sides = stations.Select(s => Sides(horse, s, rules)).OfType<SidesParting>().ToList();
        return new ConditionAnswer(
            horse.Profile.Id,
            series,
            sides,
            Spans(horse.Profile, horse.Today),
            HorseCharts.Marks(horse.Profile, horse.Assessment?.Worst),
            [.. Words(series, sides, horse.Format())]
        );
    }

    /// <returns>Null when nothing of it was ever taken.</returns>
    public static ConditionChartInput? Chart(HorseRecord horse, string station)
    {
        var (rules, say) = (horse.Practice.WatchBy(), horse.Format());
        var panels = new List<ConditionPanel>();
        foreach (var panel in MeasureViews.Condition)
        {
            var series = panel
                .Keys.Select(k => (Key: k, Series: Series.Of(horse.Visits, k, panel.AtStation ? station : null, rules)))
                .Where(s => s.Series is not null)
                .ToList();
            if (series.Count == 0)
                continue;
            var shown = say.Shown(series[0].Series!.Unit);
            panels.Add(
                new ConditionPanel
                {
                    Name = say.Measure(panel.Name),
                    Unit = shown.Unit,
                    Decimals = shown.Decimals,
                    Series = [.. series.Select(s => HorseCharts.In(shown, Drawn(One(s.Series!, horse.Today), s.Key)))],
                }
            );
        }
        if (panels.Count == 0)
            return null;
        var sides = Sides(horse, station, rules);
        return new ConditionChartInput
        {
            Finding = sides is { Parting.P: >= MayHaveParted }
                ? sides.Says
                : $"{horse.Profile.Name}: {(sides is null ? "condition over time" : "left and right keep together")}",
            Subject = $"{horse.Profile.Name}, {Formatter.Metric.Station(station)}",
            Panels = panels,
            SaddleWork = HorseCharts.Marks(horse.Profile, horse.Assessment?.Worst),
            Spans = Spans(horse.Profile, horse.Today),
            Parting = sides is { Parting: { P: >= MayHaveParted } p }
                ? new Reports.Charts.Parting(p.From, p.Since, p.To, "sides part")
                : null,
            Today = horse.Today,
        };
    }

    private static IReadOnlyList<string> Stations(HorseRecord horse) =>
        [
            .. horse
                .Visits.SelectMany(v => v.Standing())
                .Where(m => m.Key == MeasureViews.HalfAreaLeft && m.Station is not null)
                .Select(m => m.Station!)
                .Distinct(StringComparer.Ordinal),
        ];

    private static ConditionSeries One(WatchedSeries series, DateOnly today)
    {
        var fit = TrendFit.Fit(series.Observations, series.Noise, null, series.Prior);
        var (first, last) = (fit.FirstDay, TrendDays.EndOf(today));
        var days = Enumerable.Range(0, (int)Math.Max(0, (last - first) / StepDays) + 1).Select(i => first + i * StepDays).Append(last);
        return new ConditionSeries(
            series.Measure,
            series.Station,
            series.Unit,
            HorseCharts.Visits(series),
            fit.DayCount < 2 ? [] : [.. fit.Band(days).Select(p => new TrendPoint(HorseCharts.DayOf(p.Day), p.Level.Value, p.Level.Sd))],
            fit.Level(last),
            fit.DayCount < 2 ? null : fit.Change(fit.FirstDay, fit.LastDay),
            fit.Slope(last) is { } slope ? new Estimate(slope.Value * 30.44, slope.Sd * 30.44) : null
        );
    }

    private static TrendSeries Drawn(ConditionSeries series, string key) =>
        new()
        {
            Side =
                key.Contains("-left", StringComparison.Ordinal) ? Side.Left
                : key.Contains("-right", StringComparison.Ordinal) ? Side.Right
                : Side.Whole,
            Visits = series.Visits,
            Trend = series.Trend,
        };

    private static SidesParting? Sides(HorseRecord horse, string station, WatchRules rules)
    {
        if (
            Series.Of(horse.Visits, MeasureViews.HalfAreaLeft, station, rules) is not { } left
            || Series.Of(horse.Visits, MeasureViews.HalfAreaRight, station, rules) is not { } right
        )
            return null;
        var threshold = left.Threshold.At(left.Observations.Average(o => o.Value));
        if (BackHistory.Trends.SinceFit.Parting.Of(left.Observations, right.Observations, left.Noise, threshold) is not { } parting)
            return null;
        return new SidesParting(
            MeasureViews.Condition[0].Name,
            station,
            left.Unit,
            parting,
            Says(parting, station, left.Unit, horse.Format())
        );
    }

    private static string Says(BackHistory.Trends.SinceFit.Parting p, string station, string unit, Formatter say)
    {
        var where = Formatter.Metric.Station(station);
        if (p.P < MayHaveParted)
            return $"Left and right keep together, {where}.";
        var moved = say.Change(p.Parted.Value, p.Parted.Sd, unit);
        var since =
            $"since about {Formatter.Metric.Day(p.Since)} "
            + $"(9 in 10 between {Formatter.Metric.Day(p.From)} and {Formatter.Metric.Day(p.To)})";
        return $"Left and right {(p.P >= Parted ? "have parted" : "may have parted")} {since}, {where}: right less left has moved by "
            + $"{moved}";
    }

    /// <summary>Work as stretches from one entry to the next, lay-offs and illness as noted.</summary>
    internal static IReadOnlyList<HorseSpan> Spans(HorseProfile horse, DateOnly today)
    {
        var spans = new List<HorseSpan>();
        var work = horse.Work.OrderBy(w => w.From).ToList();
        for (var i = 0; i < work.Count; i++)
        {
            var until = i + 1 < work.Count ? Day(work[i + 1].From).AddDays(-1) : (DateOnly?)null;
            if (Day(work[i].From) > today)
                continue;
            var load = work[i].Load.ToString().ToLowerInvariant();
            spans.Add(
                new HorseSpan(
                    Day(work[i].From),
                    until,
                    SpanKind.Work,
                    work[i].Load == WorkLoad.None ? "no work"
                        : work[i].Discipline is { } d ? $"{load} work, {d}"
                        : $"{load} work"
                )
            );
        }
        foreach (var care in horse.Care)
        {
            if (care.Kind == CareKind.LayOff)
                spans.Add(new HorseSpan(care.From, care.Until, SpanKind.LayOff, "lay-off"));
            else if (care.Kind == CareKind.Illness)
                spans.Add(new HorseSpan(care.From, care.Until, SpanKind.Illness, "illness"));
        }
        return spans;
    }

    private static IEnumerable<string> Words(IReadOnlyList<ConditionSeries> series, IReadOnlyList<SidesParting> sides, Formatter say)
    {
        foreach (var side in sides)
            yield return side.Says.EndsWith('.') ? side.Says : $"{side.Says}.";
        foreach (var s in series.Where(s => s.Change is { } c && Math.Abs(c.Value) > 1.96 * c.Sd))
            yield return $"{say.Subject(s.Key, s.Station)}: {say.Change(s.Change!.Value, s.Change.Sd, s.Unit)} from "
                + $"{Day(s.Visits[0].On)} to {Day(s.Visits[^1].On)}.";
        if (sides.Any(s => s.Parting.P >= Parted))
            yield return "Loss on one side can be disease: a veterinary surgeon looks before any refit. The service describes shape; it "
                + "does not diagnose.";
    }

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static DateOnly Day(DateTimeOffset at) => DateOnly.FromDateTime(at.UtcDateTime);
}
