using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.Rules;

namespace BackHistory.Service.Saddles;

/// <summary>What a visit says to a setting.</summary>
internal static class VisitEvidence
{
    /// <summary>With the repeatability of the hand and of the day, not the noise of the line alone.</summary>
    public static SettingEvidence EvidenceFrom(VisitRecord visit, string station, WatchRules rules) =>
        new(
            [
                .. visit
                    .Entries.Where(e => e.Stands && e.Kind == "cross-section" && e.Station == station)
                    .SelectMany(e => e.Measures)
                    .GroupBy(m => m.Key, StringComparer.Ordinal)
                    .Select(g => Mean([.. g], visit, rules)),
            ],
            [
                .. visit
                    .Entries.Where(e => e.Stands && e.Kind == "topline")
                    .SelectMany(e => e.Measures)
                    .GroupBy(m => m.Key, StringComparer.Ordinal)
                    .Select(g => Mean([.. g], visit, rules)),
            ]
        );

    private static Measure Mean(IReadOnlyList<MeasureRow> rows, VisitRecord visit, WatchRules rules)
    {
        var known = rows.Where(r => r.Value is not null).ToList();
        if (known.Count == 0)
            return new Measure(rows[0].Key, null, rows[0].Unit, null, rows[0].Why);
        var value = known.Average(r => r.Value!.Value);
        var sd = rules.NoiseAt(rows[0].Key, rows[0].Station, visit.Method, visit.By.ToString(), value) is { } noise
            ? Math.Sqrt(noise.VisitSd * noise.VisitSd + noise.TraceSd * noise.TraceSd / known.Count)
            : known.Max(r => r.Sd);
        return new Measure(rows[0].Key, value, rows[0].Unit, sd, null);
    }
}
