using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Reports;
using BackHistory.Reports.Charts;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Trends;

namespace BackHistory.Service.Trends;

/// <summary>From a horse's record to what a chart shows. Charts compute nothing: everything is computed here from the same series that decisions use.</summary>
public static class HorseCharts
{
    private const int StepDays = 7;
    private const int ForecastDays = 120;

    /// <summary>One measure at one station over time, or its left and right together.</summary>
    /// <returns>Null when the measure was never taken there.</returns>
    public static TrendChartInput? Trend(
        HorseProfile horse, IReadOnlyList<VisitRecord> visits, WatchRules rules, SaddleAssessment? saddle, string key, string? station, DateOnly today,
        ReportLanguage language = ReportLanguage.English)
    {
        var keys = key.Contains("left", StringComparison.Ordinal) ? new[] { key, key.Replace("left", "right", StringComparison.Ordinal) }
            : key.Contains("right", StringComparison.Ordinal) ? [key.Replace("right", "left", StringComparison.Ordinal), key]
            : [key];
        var series = keys.Select(k => Series.Of(visits, k, station, rules)).ToList();
        if (series.All(s => s is null)) return null;
        var unit = series.First(s => s is not null)!.Unit;
        return new TrendChartInput
        {
            Finding = Finding(horse, saddle, key, station, unit, language),
            Subject = $"{horse.Name}: {MeasureWords.Subject(keys.Length > 1 ? SideLess(key) : key, station, language)}",
            Unit = MeasureWords.Unit(unit),
            Decimals = MeasureWords.Decimals(unit),
            Series = [.. series.Zip(keys).Where(s => s.First is not null).Select(s => OneSeries(s.First!, s.Second, keys.Length > 1, saddle, today))],
            SaddleWork = Marks(horse, saddle, language),
            Spans = [.. Spans(horse, language)],
            Today = today,
            Language = language,
        };
    }

    /// <summary>The small chart of a caseload row.</summary>
    public static SparklineInput? Sparkline(IReadOnlyList<VisitRecord> visits, WatchRules rules, SaddleAssessment saddle, DateOnly today)
    {
        if (saddle.Decision.Driver is not { } driver || Series.Of(visits, driver.Measure, driver.Station, rules) is not { } series) return null;
        return new SparklineInput
        {
            Measure = MeasureWords.Subject(driver.Measure, driver.Station),
            Unit = MeasureWords.Unit(series.Unit),
            Decimals = MeasureWords.Decimals(series.Unit),
            Series = OneSeries(series, driver.Measure, false, saddle, today),
            Today = today,
        };
    }

    public static SectionCurve Section(string label, Contour contour) => new(label, [.. contour.Sample(2.0).Select(p => new PlanePoint(p.X, p.Y))]);

    internal static IReadOnlyList<SaddleMark> Marks(HorseProfile horse, SaddleAssessment? saddle, ReportLanguage language = ReportLanguage.English) =>
        [.. horse.Fits.OrderBy(f => f.TakenAt).Select(f => new SaddleMark(Day(f.TakenAt), Work(f, language), f.WorkId == saddle?.WorkId))];

    /// <summary>Each visit's mean with its noise.</summary>
    internal static List<VisitValue> Visits(WatchedSeries series) =>
    [
        .. series.Observations.GroupBy(o => DayOf(o.Day))
            .Select(g => new VisitValue(g.Key, g.Average(o => o.Value), Math.Sqrt(series.Noise.VisitSd * series.Noise.VisitSd + g.Average(o => o.Sd * o.Sd) / g.Count()))),
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
        var side = !sided ? Reports.Charts.Side.Whole : key.Contains("left", StringComparison.Ordinal) ? Reports.Charts.Side.Left : Reports.Charts.Side.Right;
        return new TrendSeries
        {
            Side = side,
            Visits = visits,
            Trend = trend,
            Baseline = watched?.Baseline is { } level ? new Reports.Charts.Baseline(saddle!.Decision.BaselineOn, level.Value, watched.Threshold) : null,
        };
    }

    private static string Finding(HorseProfile horse, SaddleAssessment? saddle, string key, string? station, string unit, ReportLanguage language)
    {
        var watched = saddle?.Decision.Measures.FirstOrDefault(m => m.Measure == key && m.Station == station);
        if (watched?.Alone is not { } alone) return $"{horse.Name}: {MeasureWords.Subject(key, station, language)}";
        // A title may break between words, not between a number and its unit.
        var change = Say.Change(alone.Change, alone.Sd, unit, language).Replace(' ', '\u00A0');
        var since = language.Date(saddle!.Decision.BaselineOn);
        return language.Pick(
            $"{MeasureWords.Of(key, language)}: {change} since the saddle was set on {since}",
            $"{MeasureWords.Of(key, language)}: {change}, seit der Sattel am {since} eingestellt wurde");
    }

    private static string Work(Fit fit, ReportLanguage language) =>
        fit.Set ? language.Pick("saddle set", "Sattel eingestellt") : language.Pick("saddle altered", "Sattel geändert");

    private static IEnumerable<HorseSpan> Spans(HorseProfile horse, ReportLanguage language)
    {
        foreach (var care in horse.Care)
        {
            if (care.Kind == CareKind.LayOff) yield return new HorseSpan(care.From, care.Until, SpanKind.LayOff, language.Pick("lay-off", "Pause"));
            else if (care.Kind == CareKind.Illness) yield return new HorseSpan(care.From, care.Until, SpanKind.Illness, language.Pick("illness", "Krankheit"));
        }
    }

    private static string SideLess(string key) => key.Replace("-left", "", StringComparison.Ordinal).Replace("-right", "", StringComparison.Ordinal);

    private static DateOnly Day(DateTimeOffset at) => DateOnly.FromDateTime(at.UtcDateTime);

    internal static DateOnly DayOf(double day) => DateOnly.FromDateTime(DateTime.UnixEpoch).AddDays((int)Math.Floor(day));
}
