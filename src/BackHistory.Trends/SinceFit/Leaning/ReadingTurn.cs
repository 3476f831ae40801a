using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>
/// How far the tracings of a visit are turned against its readings, less the same at other visits: an inclinometer is levelled by gravity
/// and a sheet by hand, so that a horse that changed moves both and a sheet that leans moves the tracing alone.
/// </summary>
static class ReadingTurn
{
    /// <returns>
    /// Degrees, positive = clockwise, with the sd that one tracing and one reading a side give it; null where the visit or all others lack
    /// readings.
    /// </returns>
    internal static Uncertain? TurnOfReadings(IReadOnlyList<WatchedSeries> series, double visit, IReadOnlyList<double> others)
    {
        var turns = new List<Uncertain>();
        foreach (var station in series.Select(s => s.Station).Distinct(StringComparer.Ordinal))
        {
            var here = SidesTurned.At(series, station);
            if (
                !here.TryGetValue("slope-left", out var l)
                || !here.TryGetValue("slope-right", out var r)
                || !here.TryGetValue("read-slope-left", out var readLeft)
                || !here.TryGetValue("read-slope-right", out var readRight)
            )
                continue;
            if (At(visit) is not { } now)
                continue;
            var before = others.Select(At).OfType<double>().ToList();
            if (before.Count == 0)
                continue;
            var variance = new[] { l, r, readLeft, readRight }.Sum(VarianceOf) / 4;
            turns.Add(new(now - before.Average(), Math.Sqrt(variance * (1 + 1.0 / before.Count))));

            double? At(double day) =>
                SidesTurned.OfDay(l, day) is { } left
                && SidesTurned.OfDay(r, day) is { } right
                && SidesTurned.OfDay(readLeft, day) is { } onLeft
                && SidesTurned.OfDay(readRight, day) is { } onRight
                    ? (right - onRight - (left - onLeft)) / 2
                    : null;
        }
        if (turns.Count == 0)
            return null;
        var weight = turns.Sum(t => 1 / (t.Sd * t.Sd));
        return new(turns.Sum(t => t.Value / (t.Sd * t.Sd)) / weight, Math.Sqrt(1 / weight));
    }

    static double VarianceOf(WatchedSeries series) => series.Observations.Average(o => o.Sd * o.Sd);
}
