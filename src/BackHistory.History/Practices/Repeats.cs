using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.Trends.Repeats;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>From visits and tables of studies to what was taken again and again. Pure.</summary>
public static class Repeats
{
    /// <summary>What a hand does with the ruler or the inclinometer; a scale and a tape are two methods, no repeats.</summary>
    private static readonly string[] ByHand = ["cross-section", "topline", "reading"];

    /// <summary>Copies of one tracing of a horse are one tracing: to copy is not to trace again.</summary>
    public static IEnumerable<RepeatedMeasure> RepeatsIn(IEnumerable<VisitRecord> visits, TimeZoneInfo zone)
    {
        var traced = new HashSet<string>(StringComparer.Ordinal);
        return [.. Taken(visits, zone, (visit, entry) => entry.Kind == "reading" || traced.Add(Fingerprint(visit, entry)))];
    }

    /// <summary>No hand draws all measures of a back twice alike to the last digit: tracings whose measures are equal have the same
    /// points. A number that is read off an instrument may well come out the same again.</summary>
    private static string Fingerprint(VisitRecord visit, EntryRecord entry) =>
        string.Join(
            '|',
            [
                visit.HorseId.ToString(),
                entry.Kind,
                entry.Station,
                .. entry.Measures.Select(m => string.Create(CultureInfo.InvariantCulture, $"{m.Key}@{m.Station}={m.Value:R}")),
            ]
        );

    private static IEnumerable<RepeatedMeasure> Taken(
        IEnumerable<VisitRecord> visits,
        TimeZoneInfo zone,
        Func<VisitRecord, EntryRecord, bool> counts
    ) =>
        from visit in visits
        where !visit.Withdrawn
        from measure in visit
            .Entries.Where(e => e.Stands && ByHand.Contains(e.Kind) && counts(visit, e))
            .SelectMany(e => e.Measures)
            .Where(m => m.Value is not null)
            .GroupBy(m => (m.Key, m.Station))
        select new RepeatedMeasure(
            measure.Key.Key,
            measure.Key.Station,
            visit.Method,
            new RepeatedVisit(
                visit.HorseId.ToString(),
                TrendDays.DayNumber(visit.TakenAt, zone),
                visit.By.ToString(),
                [.. measure.Select(m => m.Value!.Value)]
            )
        );

    /// <summary>A table's horses have no names: each row is a horse of its own.</summary>
    public static IEnumerable<RepeatedMeasure> RepeatsIn(Study study, TimeZoneInfo zone)
    {
        for (var row = 0; row < study.Subjects.Count; row++)
        {
            var (horse, values) = ($"{study.StudyId} {row}", study.Subjects[row]);
            if (study.Raters.Count == 0)
                yield return One(study, horse, null, values, zone);
            else
                for (var column = 0; column < values.Count; column++)
                    yield return One(study, horse, study.Raters[column], [values[column]], zone);
        }
    }

    private static RepeatedMeasure One(Study study, string horse, Guid? by, IReadOnlyList<double> values, TimeZoneInfo zone) =>
        new(
            study.Measure,
            study.Station,
            study.Method,
            new RepeatedVisit(horse, TrendDays.DayNumber(study.TakenAt, zone), by?.ToString(), values)
        );
}
