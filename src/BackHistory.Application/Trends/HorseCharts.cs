using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Shape.Contours;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Application.Trends;

/// <summary>From a horse's record to what a chart shows. Charts compute nothing: everything is computed here from the same series that
/// decisions use.</summary>
public static class HorseCharts
{
    private const int StepDays = 7;
    private const int ForecastDays = 120;

    /// <summary>One measure at one station over time, or its left and right together.</summary>
    /// <param name="from">The first day that is shown; where nothing was measured since, everything is. The trend rests on all visits all
    /// the same.</param>
    /// <returns>Null when the measure was never taken there.</returns>
    public static TrendChartInput? Trend(
        HorseRecord record,
        SaddleAssessment? saddle,
        string key,
        string? station,
        ReportLanguage language = default,
        DateOnly? from = null
    )
    {
        var (horse, rules, today, say) = (record.Profile, record.Practice.WatchBy(), record.Today, record.Format(language));
        var keys =
            key.Contains("left", StringComparison.Ordinal) ? new[] { key, key.Replace("left", "right", StringComparison.Ordinal) }
            : key.Contains("right", StringComparison.Ordinal) ? [key.Replace("right", "left", StringComparison.Ordinal), key]
            : [key];
        var series = keys.Select(k => Series.SeriesFrom(record.Visits, k, station, rules, record.Zone)).ToList();
        if (series.All(s => s is null))
            return null;
        var unit = series.First(s => s is not null)!.Unit;
        var shown = say.Shown(unit);
        var drawn = series
            .Zip(keys)
            .Where(s => s.First is not null)
            .Select(s => In(shown, OneSeries(s.First!, s.Second, keys.Length > 1, saddle, today)))
            .ToList();
        if (from is { } first && drawn.All(s => s.Visits.Any(v => v.On >= first)))
            drawn = [.. drawn.Select(s => Since(first, s))];
        return new TrendChartInput
        {
            Finding = Finding(horse, saddle, key, station, unit, say),
            Subject = $"{horse.Name}: {say.Subject(keys.Length > 1 ? SideLess(key) : key, station)}",
            Unit = shown.Unit,
            Decimals = shown.Decimals,
            Series = drawn,
            SaddleWork = Marks(record, saddle, language),
            Spans = [.. Spans(horse, language)],
            Today = today,
            Language = language,
        };
    }

    /// <summary>The small chart of a caseload row.</summary>
    public static SparklineInput? Sparkline(HorseRecord horse, SaddleAssessment saddle)
    {
        if (
            saddle.Decision.Driver is not { } driver
            || Series.SeriesFrom(horse.Visits, driver.Measure, driver.Station, horse.Practice.WatchBy(), horse.Zone) is not { } series
        )
            return null;
        var shown = horse.Format().Shown(series.Unit);
        return new SparklineInput
        {
            Measure = horse.Format().Subject(driver.Measure, driver.Station),
            Unit = shown.Unit,
            Decimals = shown.Decimals,
            Series = In(shown, OneSeries(series, driver.Measure, false, saddle, horse.Today)),
            Today = horse.Today,
        };
    }

    public static SectionCurve Section(string label, Contour contour) =>
        new(label, [.. contour.Sample(3.0).Select(p => new PlanePoint(p.X, p.Y))]);

    internal static IReadOnlyList<SaddleMark> Marks(HorseRecord horse, SaddleAssessment? saddle, ReportLanguage language = default) =>
        [
            .. horse
                .Profile.Fits.OrderBy(f => f.TakenAt)
                .Select(f => new SaddleMark(horse.Day(f.TakenAt), Work(f, language), f.WorkId == saddle?.WorkId)),
        ];

    /// <summary>Each visit's mean with its noise.</summary>
    internal static List<VisitValue> Visits(WatchedSeries series) =>
        [
            .. series
                .Observations.GroupBy(o => DayOf(o.Day))
                .Select(g => new VisitValue(
                    g.Key,
                    g.Average(o => o.Value),
                    Math.Sqrt(series.Noise.VisitSd * series.Noise.VisitSd + g.Average(o => o.Sd * o.Sd) / g.Count())
                )),
        ];

    private static TrendSeries OneSeries(WatchedSeries series, string key, bool sided, SaddleAssessment? saddle, DateOnly today)
    {
        var fit = TrendFit.Fit(series.Observations, series.Noise, null, series.Prior);
        var visits = Visits(series);
        var first = Math.Floor(fit.FirstDay);
        var last = Math.Max(fit.LastDay, TrendDays.EndOf(today)) + ForecastDays;
        var days = Enumerable.Range(0, (int)((last - first) / StepDays) + 1).Select(i => first + i * StepDays);
        var trend = fit.DayCount < 2 ? [] : fit.Band(days).Select(p => new TrendPoint(DayOf(p.Day), p.Level.Value, p.Level.Sd)).ToList();
        var watched = saddle?.Decision.Measures.FirstOrDefault(m => m.Measure == key && m.Station == series.Station);
        var side =
            !sided ? Reports.Charts.Content.SeriesSide.Whole
            : key.Contains("left", StringComparison.Ordinal) ? Reports.Charts.Content.SeriesSide.Left
            : Reports.Charts.Content.SeriesSide.Right;
        return new TrendSeries
        {
            Side = side,
            Visits = visits,
            Trend = trend,
            Baseline = watched?.Baseline is { } level
                ? new Reports.Charts.Content.BaselineBand(saddle!.Decision.BaselineOn, level.Value, watched.Threshold)
                : null,
        };
    }

    private static TrendSeries Since(DateOnly first, TrendSeries series) =>
        series with
        {
            Visits = [.. series.Visits.Where(v => v.On >= first)],
            Trend = [.. series.Trend.Where(p => p.On >= first)],
        };

    /// <summary>In the unit that is shown: charts draw what they are given.</summary>
    internal static TrendSeries In(ShownUnit shown, TrendSeries series) =>
        shown.Factor == 1
            ? series
            : series with
            {
                Visits = [.. series.Visits.Select(v => v with { Value = v.Value * shown.Factor, Sd = v.Sd * shown.Factor })],
                Trend = [.. series.Trend.Select(t => t with { Level = t.Level * shown.Factor, Sd = t.Sd * shown.Factor })],
                Baseline = series.Baseline is { } b
                    ? b with
                    {
                        Level = b.Level * shown.Factor,
                        Allowance = b.Allowance * shown.Factor,
                    }
                    : null,
            };

    private static string Finding(HorseProfile horse, SaddleAssessment? saddle, string key, string? station, string unit, Formatter say)
    {
        var language = say.Language;
        var watched = saddle?.Decision.Measures.FirstOrDefault(m => m.Measure == key && m.Station == station);
        if (watched?.Alone is not { } alone)
            return $"{horse.Name}: {say.Subject(key, station)}";
        // A title may break between words, not between a number and its unit.
        var change = say.Change(alone.Change, alone.Sd, unit).Replace(' ', '\u00A0');
        var since = language.Date(saddle!.Decision.BaselineOn);
        return language["horse-charts.since-the-saddle-was", say.Measure(key), change, since];
    }

    private static string Work(SaddleFit fit, ReportLanguage language) =>
        fit.Set ? language["horse-charts.saddle-set"] : language["horse-charts.saddle-altered"];

    private static IEnumerable<HorseSpan> Spans(HorseProfile horse, ReportLanguage language)
    {
        foreach (var care in horse.Care)
        {
            if (care.Kind == CareKind.LayOff)
                yield return new HorseSpan(care.From, care.Until, SpanKind.LayOff, language["horse-charts.lay-off"]);
            else if (care.Kind == CareKind.Illness)
                yield return new HorseSpan(care.From, care.Until, SpanKind.Illness, language["horse-charts.illness"]);
        }
    }

    private static string SideLess(string key) =>
        key.Replace("-left", "", StringComparison.Ordinal).Replace("-right", "", StringComparison.Ordinal);

    internal static DateOnly DayOf(double day) => DateOnly.FromDateTime(DateTime.UnixEpoch).AddDays((int)Math.Floor(day));
}
