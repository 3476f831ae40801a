using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// How far the latest visit lies from what all the others foretell, in standard deviations of that prediction: a value out of line is not
/// dropped and not weighed down in silence; the page asks for a second tracing while the horse is still there.
/// </summary>
public static class Surprise
{
    /// <returns>Null with fewer than three visits before the latest: until then any value is as likely as the line through the
    /// others.</returns>
    public static double? OfLatest(IReadOnlyList<Observation> observations, NoiseLayers noise, double? q = null, DriftPrior? prior = null)
    {
        var latest = observations.Max(o => Days.CalendarDay(o.Day));
        List<Observation> others = [.. observations.Where(o => Days.CalendarDay(o.Day) < latest)];
        if (others.Count == 0)
            return null;
        // The drift is learned without the value in question, so that a wild one cannot excuse itself.
        var drift = q ?? TrendFit.Fit(others, noise, prior: prior).Q;
        return TrendFit.Fit(observations, noise, drift).SurpriseOfLastDay();
    }
}
