using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Shape.Quality;
using BackHistory.Trends.Rules;

namespace BackHistory.Application.Visits;

/// <summary>What was read by hand beside what the tracing of the same place says (method.md, section 3): a disagreement over twice their
/// joint standard deviation is told while the horse still stands there.</summary>
public static class ReadingsAgainstTracings
{
    /// <summary>Of a reading that the rules say nothing of, degrees (rule of thumb).</summary>
    private const double UsualSd = 1;

    /// <summary>The disagreements of a visit, by the entry of the reading.</summary>
    /// <param name="stations">The protocol's, in its order: the topline is read from one to the next.</param>
    public static IReadOnlyDictionary<Guid, Disagreement> OfVisit(VisitRecord visit, IReadOnlyList<string> stations, WatchRules rules)
    {
        var traced = visit.Withdrawn
            ? []
            : visit.Entries.Where(e => e.Stands && e.Kind is "cross-section" or "topline").SelectMany(e => e.Measures).ToList();
        var found = new Dictionary<Guid, Disagreement>();
        foreach (var entry in visit.Entries.Where(e => e is { Stands: true, Kind: "reading" } && !visit.Withdrawn))
        {
            if (entry.Measures is not [{ Value: { } value } row, ..] || Readings.TracedAs(row.Key, row.Station, stations) is not { } key)
                continue;
            var station = row.Key == Readings.ToplineSlope ? null : row.Station;
            var same = traced.Where(m => m.Key == key && m.Station == station && m.Value is not null).ToList();
            if (same.Count == 0)
                continue;
            var measure = new Measure(key, same.Average(m => m.Value!.Value), same[0].Unit, same.Max(m => m.Sd), null);
            if (Compare(row.Key, row.Station, value, measure, visit.Method, visit.By, rules) is { } apart)
                found[entry.EntryId] = apart;
        }

        return found;
    }

    /// <summary>One reading beside one tracing; null where they agree, or say nothing of the same.</summary>
    /// <param name="measures">Of the tracing.</param>
    /// <param name="station">At which it was read.</param>
    public static Disagreement? OfReading(
        string reading,
        string? station,
        double value,
        IReadOnlyList<Measure> measures,
        IReadOnlyList<string> stations,
        string method,
        Guid by,
        WatchRules rules
    ) =>
        Readings.TracedAs(reading, station, stations) is { } key && measures.FirstOrDefault(m => m.Key == key) is { } measure
            ? Compare(reading, station, value, measure, method, by, rules)
            : null;

    private static Disagreement? Compare(
        string reading,
        string? station,
        double value,
        Measure measure,
        string method,
        Guid by,
        WatchRules rules
    )
    {
        var readingSd = rules.NoiseAt(reading, station, method, by.ToString(), value)?.TraceSd ?? UsualSd;
        var tracingSd =
            rules.NoiseAt(measure.Key, station, method, by.ToString(), value)?.TraceSd ?? HandScatter.SdOf(measure.Key, value) ?? UsualSd;
        return ReadingCheck.Compare(measure, value, readingSd, tracingSd);
    }
}
