namespace BackHistory.Trends;

/// <summary>
/// How far the latest visit lies from what all the others foretell, in standard deviations of that prediction: a value out of line is not dropped and not
/// weighed down in silence; the page asks for a second tracing while the horse is still there.
/// </summary>
public static class Surprise
{
    /// <returns>Null with fewer than three visits before the latest: until then any value is as likely as the line through the others.</returns>
    public static double? OfLatest(IReadOnlyList<Observation> observations, NoiseLayers noise, double? q = null, DriftPrior? prior = null)
    {
        var latest = observations.Max(o => Days.CalendarDay(o.Day));
        var others = observations.Where(o => Days.CalendarDay(o.Day) < latest).ToList();
        if (others.Select(o => Days.CalendarDay(o.Day)).Distinct().Count() < 3) return null;
        var visit = observations.Where(o => Days.CalendarDay(o.Day) >= latest).ToList();
        var weight = visit.Sum(o => 1 / (o.Sd * o.Sd));
        var mean = visit.Sum(o => o.Value / (o.Sd * o.Sd)) / weight;
        var hands = others.Exists(o => string.Equals(o.By, visit[0].By, StringComparison.Ordinal) && !string.IsNullOrEmpty(o.By)) ? 0 : noise.PersonSd;
        var foretold = TrendFit.Fit(others, noise, q, prior).Level(visit.Max(o => o.Day))!;
        var variance = foretold.Sd * foretold.Sd + 1 / weight + noise.VisitSd * noise.VisitSd + hands * hands;
        return (mean - foretold.Value) / Math.Sqrt(variance);
    }

    internal static double? Of(WatchedSeries series, TrendFit trend) => OfLatest(series.Observations, series.Noise, trend.Q, series.Prior);
}
