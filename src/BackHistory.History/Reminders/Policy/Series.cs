using BackHistory.History.Horses;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.History.Reminders.Policy;

/// <summary>From visits to the series that the rules watch.</summary>
public static class Series
{
    private readonly record struct Row(VisitRecord Visit, MeasureRow Measure, bool Flagged);

    /// <summary>Every watched measure that was ever taken of this horse, at every station.</summary>
    /// <param name="zone">The practice's: its clock says on which day a visit was.</param>
    public static IReadOnlyList<WatchedSeries> SeriesFrom(IReadOnlyList<VisitRecord> visits, WatchRules rules, TimeZoneInfo zone) =>
        SeriesFrom([.. Rows(visits)], rules, zone);

    private static List<WatchedSeries> SeriesFrom(IReadOnlyList<Row> rows, WatchRules rules, TimeZoneInfo zone)
    {
        var contours = new StationContours(rows.Select(r => r.Measure));
        return
        [
            .. rows.Where(r => rules.ThresholdOf(r.Measure.Key) is not null)
                .GroupBy(r => (r.Measure.Key, r.Measure.Station))
                .OrderBy(g => g.Key.Key, StringComparer.Ordinal)
                .ThenBy(g => g.Key.Station, StringComparer.Ordinal)
                .Select(g =>
                    One(g.Key.Key, g.Key.Station, [.. g], rules, zone) with
                    {
                        Contour = contours.GainsOf(g.Key.Key, g.Key.Station),
                    }
                ),
        ];
    }

    /// <summary>One measure at one station, watched or not.</summary>
    public static WatchedSeries? SeriesFrom(
        IReadOnlyList<VisitRecord> visits,
        string key,
        string? station,
        WatchRules rules,
        TimeZoneInfo zone
    )
    {
        var rows = Rows(visits).Where(r => r.Measure.Key == key && r.Measure.Station == station).ToList();
        return rows.Count == 0 ? null : One(key, station, rows, rules, zone);
    }

    private static IEnumerable<Row> Rows(IReadOnlyList<VisitRecord> visits) =>
        from visit in visits
        where !visit.Withdrawn
        from entry in visit.Entries
        where entry.Stands
        from measure in entry.Measures
        where measure.Value is not null
        select new Row(visit, measure, entry.Flags.Any(f => f.Concerns(measure.Key)));

    /// <summary>For a measure that the rules say nothing of: a twentieth of its value in each layer (rule of thumb).</summary>
    private static readonly NoiseRule Unknown = new("", 5, 5, 5, Percent: true);

    private static WatchedSeries One(string key, string? station, IReadOnlyList<Row> rows, WatchRules rules, TimeZoneInfo zone)
    {
        var middle = Median([.. rows.Select(r => Math.Abs(r.Measure.Value!.Value))]);
        var byHand = rows.GroupBy(r => (r.Visit.Method, r.Visit.By))
            .ToDictionary(g => g.Key, g => (Count: g.Count(), Noise: NoiseAt(key, station, g.Key.Method, g.Key.By, middle, rules)));
        // A flagged tracing stays in the history and counts for less.
        var observations = rows.OrderBy(r => r.Visit.TakenAt)
            .Select(r => new Observation(
                TrendDays.DayNumber(r.Visit.TakenAt, zone),
                r.Measure.Value!.Value,
                byHand[(r.Visit.Method, r.Visit.By)].Noise.TraceSd * (r.Flagged ? rules.FlagFactor : 1),
                r.Visit.By.ToString()
            ))
            .ToList();
        // One figure stands for what days add: that of the hands that took most.
        var layers = byHand.OrderByDescending(h => h.Value.Count).ThenBy(h => h.Key.By).First().Value.Noise.Layers;
        return new WatchedSeries(
            key,
            station,
            rows[0].Measure.Unit,
            observations,
            layers,
            rules.ThresholdOf(key) ?? new Threshold(double.PositiveInfinity),
            rules.Learned?.DriftOf(key, station)
        );
    }

    /// <summary>The layers of noise by which a measure is taken: the rules', else a twentieth of its value (rule of thumb).</summary>
    public static NoiseInUse NoiseAt(string key, string? station, string method, Guid by, double value, WatchRules rules)
    {
        if (rules.NoiseAt(key, station, method, by.ToString(), value) is { } noise)
            return noise;
        var (trace, layers) = Unknown.At(value);
        return new NoiseInUse(
            trace,
            NoiseSource.RuleOfThumb,
            layers.VisitSd,
            NoiseSource.RuleOfThumb,
            layers.PersonSd,
            NoiseSource.RuleOfThumb
        );
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return (values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2;
    }
}
