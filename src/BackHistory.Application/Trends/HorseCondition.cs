using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Conditions;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Application.Trends;

/// <summary>The veterinary view, worked out from the same series as the decision. It describes shape; it does not diagnose.</summary>
public static class HorseCondition
{
    private const int StepDays = 7;

    public static ConditionAnswer From(HorseRecord horse, ReportLanguage language = default)
    {
        var say = horse.Format(language);
        var rules = horse.Practice.WatchBy();
        var stations = Stations(horse);
        var series = MeasureViews
            .Condition.SelectMany(p =>
                p.AtStation
                    ? stations.SelectMany(s => p.Keys.Select(k => (Key: k, Station: (string?)s)))
                    : p.Keys.Select(k => (Key: k, Station: (string?)null))
            )
            .Select(k => Series.SeriesFrom(horse.Visits, k.Key, k.Station, rules, horse.Zone))
            .OfType<WatchedSeries>()
            .Select(s => One(s, horse.Today))
            .ToList();
        var sides = stations.Select(s => Sides(horse, s, rules, say)).OfType<SidesParting>().ToList();
        return new ConditionAnswer(
            horse.Profile.Id,
            series,
            sides,
            Spans(horse, language),
            HorseCharts.Marks(horse, horse.Assessment?.Worst),
            [.. Words(series, sides, say)]
        );
    }

    /// <returns>Null when nothing of it was ever taken.</returns>
    public static ConditionChartInput? Chart(HorseRecord horse, string station, ReportLanguage language = default)
    {
        var (rules, say) = (horse.Practice.WatchBy(), horse.Format(language));
        var panels = new List<ConditionPanel>();
        foreach (var panel in MeasureViews.Condition)
        {
            var series = panel
                .Keys.Select(k => (Key: k, Series: Series.SeriesFrom(horse.Visits, k, panel.AtStation ? station : null, rules, horse.Zone)))
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
        var sides = Sides(horse, station, rules, say);
        return new ConditionChartInput
        {
            Finding = sides is { Parting.P: >= ConditionSentences.MayHaveParted }
                ? sides.Says
                : language[sides is null ? "condition.over-time" : "condition.sides-together-chart", horse.Profile.Name],
            Subject = language["condition.horse-and-station", horse.Profile.Name, say.Station(station)],
            Panels = panels,
            SaddleWork = HorseCharts.Marks(horse, horse.Assessment?.Worst),
            Spans = Spans(horse, language),
            Parting = sides is { Parting: { P: >= ConditionSentences.MayHaveParted } p }
                ? new Reports.Charts.PartingMark(p.From, p.Since, p.To, language["condition.sides-part"])
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
            fit.Slope(last) is { } slope ? new Uncertain(slope.Value * 30.44, slope.Sd * 30.44) : null
        );
    }

    private static TrendSeries Drawn(ConditionSeries series, string key) =>
        new()
        {
            Side =
                key.Contains("-left", StringComparison.Ordinal) ? SeriesSide.Left
                : key.Contains("-right", StringComparison.Ordinal) ? SeriesSide.Right
                : SeriesSide.Whole,
            Visits = series.Visits,
            Trend = series.Trend,
        };

    private static SidesParting? Sides(HorseRecord horse, string station, WatchRules rules, Formatter say)
    {
        if (
            Series.SeriesFrom(horse.Visits, MeasureViews.HalfAreaLeft, station, rules, horse.Zone) is not { } left
            || Series.SeriesFrom(horse.Visits, MeasureViews.HalfAreaRight, station, rules, horse.Zone) is not { } right
        )
            return null;
        var threshold = left.Threshold.At(left.Observations.Average(o => o.Value));
        if (
            BackHistory.Trends.SinceFit.Parting.FindParting(left.Observations, right.Observations, left.Noise, threshold) is not { } parting
        )
            return null;
        return new SidesParting(
            MeasureViews.Condition[0].Name,
            station,
            left.Unit,
            parting,
            ConditionSentences.Sides(parting, station, left.Unit, say)
        );
    }

    /// <summary>Work as stretches from one entry to the next, lay-offs and illness as noted.</summary>
    public static IReadOnlyList<HorseSpan> Spans(HorseRecord record, ReportLanguage language)
    {
        var spans = new List<HorseSpan>();
        var (horse, today) = (record.Profile, record.Today);
        var work = horse.Work.OrderBy(w => w.From).ToList();
        for (var i = 0; i < work.Count; i++)
        {
            var until = i + 1 < work.Count ? record.Day(work[i + 1].From).AddDays(-1) : (DateOnly?)null;
            if (record.Day(work[i].From) > today)
                continue;
            spans.Add(
                new HorseSpan(
                    record.Day(work[i].From),
                    until,
                    SpanKind.Work,
                    ConditionSentences.Work(work[i].Load, work[i].Discipline, language)
                )
            );
        }
        foreach (var care in horse.Care)
        {
            if (care.Kind == CareKind.LayOff)
                spans.Add(new HorseSpan(care.From, care.Until, SpanKind.LayOff, language["horse-charts.lay-off"]));
            else if (care.Kind == CareKind.Illness)
                spans.Add(new HorseSpan(care.From, care.Until, SpanKind.Illness, language["horse-charts.illness"]));
        }
        return spans;
    }

    private static IEnumerable<string> Words(IReadOnlyList<ConditionSeries> series, IReadOnlyList<SidesParting> sides, Formatter say)
    {
        foreach (var side in sides)
            yield return side.Says;
        foreach (var s in series.Where(s => s.Change is { } c && Math.Abs(c.Value) > 1.96 * c.Sd))
            yield return ConditionSentences.Change(
                s.Key,
                s.Station,
                s.Change!.Value,
                s.Change.Sd,
                s.Unit,
                s.Visits[0].On,
                s.Visits[^1].On,
                say
            );
        if (sides.Any(s => s.Parting.P >= ConditionSentences.Parted))
            yield return say.Language["condition.one-side"];
    }
}
