using BackHistory.History.Horses;
using BackHistory.Trends;

namespace BackHistory.History.Reminders;

/// <summary>From visits to the series that the rules watch.</summary>
public static class Series
{
    /// <summary>Every watched measure that was ever taken of this horse, at every station.</summary>
    public static IReadOnlyList<WatchedSeries> Of(IReadOnlyList<VisitRecord> visits, WatchRules rules)
    {
        var rows = visits
            .SelectMany(v => v.Standing(), (v, m) => (Visit: v, Row: m))
            .Where(x => x.Row.Value is not null && rules.ThresholdOf(x.Row.Key) is not null);
        return [.. rows
            .GroupBy(x => (x.Row.Key, x.Row.Station))
            .OrderBy(g => g.Key.Key, StringComparer.Ordinal).ThenBy(g => g.Key.Station, StringComparer.Ordinal)
            .Select(g => One(g.Key.Key, g.Key.Station, [.. g], rules))];
    }

    /// <summary>One measure at one station, watched or not.</summary>
    public static WatchedSeries? Of(IReadOnlyList<VisitRecord> visits, string key, string? station, WatchRules rules)
    {
        var rows = visits.SelectMany(v => v.Standing(), (v, m) => (Visit: v, Row: m))
            .Where(x => x.Row.Key == key && x.Row.Station == station && x.Row.Value is not null).ToList();
        return rows.Count == 0 ? null : One(key, station, rows, rules);
    }

    /// <summary>For a measure that the rules say nothing of: a twentieth of its value in each layer (rule of thumb).</summary>
    private static readonly NoiseRule Unknown = new("", 5, 5, 5, Percent: true);

    private static WatchedSeries One(string key, string? station, IReadOnlyList<(VisitRecord Visit, MeasureRow Row)> rows, WatchRules rules)
    {
        var middle = Median([.. rows.Select(r => Math.Abs(r.Row.Value!.Value))]);
        var (traceSd, layers) = (rules.NoiseOf(key) ?? Unknown).At(middle);
        var observations = rows
            .OrderBy(r => r.Visit.TakenAt)
            .Select(r => new Observation(TrendDays.DayNumber(r.Visit.TakenAt), r.Row.Value!.Value, traceSd, r.Visit.By.ToString()))
            .ToList();
        return new WatchedSeries(key, station, rows[0].Row.Unit, observations, layers, rules.ThresholdOf(key) ?? new Threshold(double.PositiveInfinity));
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return (values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2;
    }
}
