using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>
/// How far the two sides at one station have moved between a visit and others, degrees of steepness, slopes and half areas taken together.
/// </summary>
/// <param name="Turned">
/// Half of what the right side steepened more than the left: what a clockwise turn would do. Its sd is that of the noise of the measures.
/// </param>
/// <param name="Shared">What both steepened by together.</param>
internal readonly record struct SidesTurned(string Station, Uncertain Turned, double Shared)
{
    readonly record struct Moved(double Left, double Right, double Variance);

    /// <summary>Every station that the visit and at least one other measured on both sides.</summary>
    /// <param name="visit">UTC day.</param>
    /// <param name="others">UTC days.</param>
    internal static IReadOnlyList<SidesTurned> Find(IReadOnlyList<WatchedSeries> series, double visit, IReadOnlyList<double> others)
    {
        var found = new List<SidesTurned>();
        var stations = series.Select(s => s.Station).OfType<string>().Distinct(StringComparer.Ordinal);
        foreach (var station in stations.Order(StringComparer.Ordinal))
        {
            var here = At(series, station);
            var sides = here
                .Keys.Where(k => k is "slope-left" || k.StartsWith("half-area-left", StringComparison.Ordinal))
                .Select(left => Steepened(here, left, left.Replace("-left", "-right", StringComparison.Ordinal), visit, others))
                .OfType<Moved>()
                .ToList();
            if (sides.Count == 0)
                continue;
            var (l, r) = (sides.Average(s => s.Left), sides.Average(s => s.Right));
            // Half the difference of two sides, averaged over the measures that tell it.
            var variance = sides.Sum(s => s.Variance) / (4.0 * sides.Count * sides.Count);
            found.Add(new(station, new((r - l) / 2, Math.Sqrt(variance)), (r + l) / 2));
        }
        return found;
    }

    /// <summary>What each side has steepened by since the mean of the others, with the variance of their difference.</summary>
    static Moved? Steepened(Dictionary<string, WatchedSeries> here, string left, string right, double visit, IReadOnlyList<double> others)
    {
        if (!here.TryGetValue(left, out var l) || !here.TryGetValue(right, out var r) || Both(l, r, visit) is not { } now)
            return null;
        var before = others.Select(day => Both(l, r, day)).OfType<(double Left, double Right)>().ToList();
        if (before.Count == 0)
            return null;
        var moved = (Left: now.Left - before.Average(b => b.Left), Right: now.Right - before.Average(b => b.Right));
        var variance = (VarianceOf(l) + VarianceOf(r)) * (1 + 1.0 / before.Count);
        if (l.Unit == "deg")
            return new(moved.Left, moved.Right, variance);
        var depth = Turning.DepthOf(left);
        var across = left.Replace("half-area-left", "width", StringComparison.Ordinal);
        var width = here.TryGetValue(across, out var w) ? OfDay(w, visit) : null;
        // Each half has its own share; they differ by the square of what the sides differ by.
        var perDegree = Turning.AreaPerDegree(width ?? Turning.WidthOf(now.Left + now.Right, depth), depth) / 2;
        return new(-moved.Left / perDegree, -moved.Right / perDegree, variance / (perDegree * perDegree));
    }

    static (double Left, double Right)? Both(WatchedSeries left, WatchedSeries right, double day) =>
        OfDay(left, day) is { } l && OfDay(right, day) is { } r ? (l, r) : null;

    /// <summary>Of one tracing on one day.</summary>
    static double VarianceOf(WatchedSeries series) =>
        series.Noise.VisitSd * series.Noise.VisitSd + series.Observations.Average(o => o.Sd * o.Sd);

    /// <summary>The series of one station by their measures.</summary>
    internal static Dictionary<string, WatchedSeries> At(IReadOnlyList<WatchedSeries> series, string? station) =>
        series.Where(s => string.Equals(s.Station, station, StringComparison.Ordinal)).ToDictionary(s => s.Measure, StringComparer.Ordinal);

    /// <summary>Mean of a day's tracings; null without any.</summary>
    internal static double? OfDay(WatchedSeries series, double day)
    {
        double sum = 0;
        var n = 0;
        foreach (var o in series.Observations)
            if (Days.CalendarDay(o.Day) == day)
            {
                sum += o.Value;
                n++;
            }
        return n == 0 ? null : sum / n;
    }
}
