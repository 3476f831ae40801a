using BackHistory.History.Horses;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Loss of shape on both sides together with weight, quickly: disease until a veterinary surgeon says otherwise (method.md,
/// section 9).</summary>
/// <param name="Since">The visit with the higher weight.</param>
/// <param name="Before">Weight then, kg.</param>
/// <param name="Now">Weight at the last visit, kg.</param>
internal sealed record FastLoss(DateOnly Since, double Before, double Now)
{
    private const string Left = "half-area-left@100";
    private const string Right = "half-area-right@100";

    /// <returns>Null without such a loss, or without the numbers to see it.</returns>
    public static FastLoss? Find(
        IReadOnlyList<VisitRecord> visits,
        FastLossSetting setting,
        WatchRules watch,
        DateOnly asOf,
        TimeZoneInfo zone
    )
    {
        if (!setting.On)
            return null;
        var known = visits.Where(v => !v.Withdrawn && ZoneClock.Day(v.TakenAt, zone) <= asOf).OrderBy(v => v.TakenAt).ToList();
        if (Fall(known, "weight", null, setting.WeightPercent, setting.WithinDays, watch, zone) is not { } weight)
            return null;
        var stations = known
            .SelectMany(v => v.Standing())
            .Where(m => m.Key == Left)
            .Select(m => m.Station)
            .Distinct(StringComparer.Ordinal);
        var both = stations.Any(s =>
            Fall(known, Left, s, setting.AreaPercent, setting.WithinDays, watch, zone) is not null
            && Fall(known, Right, s, setting.AreaPercent, setting.WithinDays, watch, zone) is not null
        );
        return both ? weight : null;
    }

    /// <summary>From the highest value within the time to the last one, when it is larger than asked and than two visits can be told
    /// apart.</summary>
    private static FastLoss? Fall(
        IReadOnlyList<VisitRecord> visits,
        string key,
        string? station,
        double percent,
        int withinDays,
        WatchRules watch,
        TimeZoneInfo zone
    )
    {
        var values = visits
            .Select(v =>
                (
                    v.TakenAt,
                    Values: v.Standing()
                        .Where(m => m.Key == key && m.Station == station && m.Value is not null)
                        .Select(m => m.Value!.Value)
                        .ToList()
                )
            )
            .Where(v => v.Values.Count > 0)
            .Select(v => (v.TakenAt, Value: v.Values.Average()))
            .ToList();
        if (values.Count < 2)
            return null;
        var last = values[^1];
        var window = values.Where(v => v.TakenAt < last.TakenAt && v.TakenAt >= last.TakenAt.AddDays(-withinDays)).ToList();
        if (window.Count == 0)
            return null;
        var high = window.MaxBy(v => v.Value);
        var (trace, layers) = (watch.NoiseOf(key) ?? new NoiseRule(key, 5, 5, 5, Percent: true)).At(high.Value);
        var detectable = 1.96 * Math.Sqrt(2 * (trace * trace + layers.VisitSd * layers.VisitSd));
        var fall = high.Value - last.Value;
        return fall >= percent / 100 * high.Value && fall >= detectable
            ? new FastLoss(ZoneClock.Day(high.TakenAt, zone), high.Value, last.Value)
            : null;
    }
}
