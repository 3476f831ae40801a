using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>
/// How far a visit's tracings lean against those of the fit: the posterior of one turn that all stations share. A sheet or a horse leans
/// by about a degree; now and then by much more. A change of one side turns what both sides say as well, and then they share as much as
/// they differ: how much both moved alike is therefore an error of the turn that tracings tell. Readings go by gravity and have no such
/// error.
/// </summary>
public static class LeanEstimate
{
    /// <summary>Of a visit, degrees, and of the one in twenty that somebody did not level; a station's own part beside what its visit
    /// shares (rules of thumb).</summary>
    const double UsualSd = 1,
        GrossSd = 6,
        GrossShare = 0.05,
        StationSd = 0.5;

    /// <param name="visit">UTC day of the visit.</param>
    /// <param name="baseline">UTC day of the visit that the saddle was set to.</param>
    /// <returns>Degrees, positive = clockwise seen from behind: the right side reads steeper. Null where nothing was traced on both
    /// sides at both visits.</returns>
    public static Uncertain? Against(IReadOnlyList<WatchedSeries> series, double visit, double baseline)
    {
        var (day, from) = (Days.CalendarDay(visit), Days.CalendarDay(baseline));
        if (day == from)
            return new(0, 0);
        var stations = SidesTurned.Find(series, day, [from]);
        if (stations.Count == 0)
            return null;
        double precision = 0,
            weighed = 0;
        foreach (var s in stations)
        {
            var weight = 1 / (s.Turned.Sd * s.Turned.Sd + 2 * StationSd * StationSd);
            precision += weight;
            weighed += weight * s.Turned.Value;
        }
        var shared = stations.Average(s => s.Shared);
        var told = new Uncertain(weighed / precision, Math.Sqrt(1 / precision + shared * shared));
        if (ReadingTurn.TurnOfReadings(series, day, [from]) is { } read)
            told = Both(told, read);
        return Posterior(told);
    }

    static Uncertain Both(Uncertain a, Uncertain b)
    {
        var (wa, wb) = (1 / (a.Sd * a.Sd), 1 / (b.Sd * b.Sd));
        return new((wa * a.Value + wb * b.Value) / (wa + wb), Math.Sqrt(1 / (wa + wb)));
    }

    /// <summary>Two visits lean, so that their difference has twice the variance of one.</summary>
    static Uncertain Posterior(Uncertain told)
    {
        var noise = told.Sd * told.Sd;
        double sum = 0,
            mean = 0,
            square = 0;
        foreach (var (share, sd) in ((double, double)[])[(1 - GrossShare, UsualSd), (GrossShare, GrossSd)])
        {
            var prior = 2 * sd * sd;
            var total = prior + noise;
            var weight = share / Math.Sqrt(total) * Math.Exp(-told.Value * told.Value / (2 * total));
            var (value, variance) = (told.Value * prior / total, prior * noise / total);
            sum += weight;
            mean += weight * value;
            square += weight * (value * value + variance);
        }
        // So far out that no share of it can be written down: only the gross one is left.
        if (sum < 1e-300)
        {
            var gross = 2 * GrossSd * GrossSd;
            return new(told.Value * gross / (gross + noise), Math.Sqrt(gross * noise / (gross + noise)));
        }
        mean /= sum;
        return new(mean, Math.Sqrt(Math.Max(0, square / sum - mean * mean)));
    }
}
