using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>One station of a visit that was traced askew: its sides have turned against each other far beyond what the other stations of
/// that visit did, and neither side has changed by itself.</summary>
/// <param name="Degrees">Beyond the others, positive = clockwise seen from behind.</param>
internal sealed record AskewStation(DateOnly On, string Station, double Degrees)
{
    /// <summary>More than three standard deviations of what a station turns by (rule of thumb).</summary>
    const double Least = 3.5;

    /// <summary>With fewer stations nobody can say which of them is askew.</summary>
    const int FewestStations = 3;

    internal static IEnumerable<AskewStation> Find(
        IReadOnlyList<WatchedSeries> series,
        double visit,
        IReadOnlyList<double> before,
        IReadOnlyList<double> after
    )
    {
        var stations = SidesTurned.Find(series, visit, [.. before, .. after]);
        if (stations.Count < FewestStations)
            yield break;
        foreach (var s in stations)
        {
            var beyond = s.Turned.Value - MedianWithout(stations, s.Station);
            if (Math.Abs(beyond) < Least || Math.Abs(s.Shared) > Math.Abs(beyond) / 2 || BorneOut(s.Station, beyond))
                continue;
            yield return new(Days.DateOf(visit) ?? DateOnly.MaxValue, s.Station, beyond);
        }

        // Later visits that on average turned at least half as far, or the one before: then the back is so.
        bool BorneOut(string station, double beyond)
        {
            if (
                before.Count > 1
                && SidesTurned
                    .Find(series, before[^1], [.. before.Take(before.Count - 1)])
                    .Any(s => Same(s.Station, station) && s.Turned.Value / beyond >= 0.5)
            )
                return true;
            var later = after
                .SelectMany(day => SidesTurned.Find(series, day, before).Where(s => Same(s.Station, station)))
                .Select(s => s.Turned.Value)
                .ToList();
            return later.Count > 0 && later.Average() / beyond >= 0.5;
        }
    }

    static bool Same(string a, string b) => string.Equals(a, b, StringComparison.Ordinal);

    static double MedianWithout(IReadOnlyList<SidesTurned> stations, string station)
    {
        var others = stations.Where(s => !Same(s.Station, station)).Select(s => s.Turned.Value).Order().ToList();
        return (others[(others.Count - 1) / 2] + others[others.Count / 2]) / 2;
    }

    internal List<WatchedSeries> WithoutItsSides(IReadOnlyList<WatchedSeries> series)
    {
        var day = Days.DayNumber(On);
        var kept = new List<WatchedSeries>(series.Count);
        foreach (var s in series)
        {
            var askew = s.Station is { } at && Same(at, Station) && Turning.Moves(s.Measure);
            var rest = askew ? s with { Observations = [.. s.Observations.Where(o => Days.CalendarDay(o.Day) != day)] } : s;
            if (rest.Observations.Count > 0)
                kept.Add(rest);
        }
        return kept;
    }
}
