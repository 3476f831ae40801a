using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Leaning;

/// <summary>
/// A visit whose tracings all lean the same way: at every station the sides have turned against each other alike, compared with the other
/// visits since the baseline. A horse or a sheet that leans moves both sides of all stations in opposite directions; muscle lost on one
/// side moves that side.
/// </summary>
/// <param name="On">The visit.</param>
/// <param name="Turned">
/// Degrees, positive = clockwise seen from behind: the right side reads steeper, the left flatter. The sd is that between the stations.
/// </param>
/// <param name="SharedDegrees">What both sides steepened by together.</param>
/// <param name="Stations">How many stations agree.</param>
/// <param name="ByReadings">
/// The same turn as the readings by inclinometer tell it, which are levelled by gravity; null where the visit or all others have none.
/// </param>
public sealed record VisitLean(DateOnly On, Uncertain Turned, double SharedDegrees, int Stations, Uncertain? ByReadings)
{
    /// <summary>One station cannot tell a lean from a change.</summary>
    const int FewestStations = 2;

    /// <summary>The side to which it leans: <c>right</c> or <c>left</c>.</summary>
    public string Way => Turned.Value > 0 ? "right" : "left";

    /// <summary>The visit, if it leans against the others.</summary>
    /// <param name="visit">UTC day of a visit with tracings.</param>
    /// <param name="others">UTC days of those with which it is compared.</param>
    /// <returns>Null when it does not lean.</returns>
    public static VisitLean? Find(IReadOnlyList<WatchedSeries> series, double visit, IReadOnlyList<double> others, WatchRules rules)
    {
        var stations = SidesTurned.Find(series, visit, others);
        if (stations.Count < FewestStations)
            return null;
        var (turned, shared) = (stations.Average(s => s.Turned.Value), stations.Average(s => s.Shared));
        if (stations.Any(s => s.Turned.Value * turned <= 0))
            return null;
        var scatter = Math.Sqrt(stations.Average(s => (s.Turned.Value - turned) * (s.Turned.Value - turned)));
        var noise = Math.Sqrt(stations.Average(s => s.Turned.Sd * s.Turned.Sd));
        if (scatter > Math.Max(rules.Lean.Scatter * Math.Abs(turned), noise))
            return null;
        var lean = new VisitLean(
            Days.DateOf(visit) ?? DateOnly.MaxValue,
            new(turned, scatter / Math.Sqrt(stations.Count)),
            shared,
            stations.Count,
            ReadingTurn.TurnOfReadings(series, visit, others)
        );
        return lean.IsNoChange(rules.Lean) ? lean : null;
    }

    /// <summary>The calendar days since the baseline on which a tracing measured left and right, in order.</summary>
    internal static IReadOnlyList<double> TracedDays(IReadOnlyList<WatchedSeries> series, double baselineDay, double asOfDay)
    {
        var days = new SortedSet<double>();
        foreach (var s in series)
        {
            if (Turning.SignOf(s.Measure) == 0)
                continue;
            foreach (var o in s.Observations)
                if (o.Day <= asOfDay && Days.CalendarDay(o.Day) >= Days.CalendarDay(baselineDay))
                    days.Add(Days.CalendarDay(o.Day));
        }
        return [.. days];
    }

    /// <summary>
    /// The series without what the tracings of this visit say of left and right; readings, widths, topline and weight stay.
    /// </summary>
    internal List<WatchedSeries> WithoutItsSides(IReadOnlyList<WatchedSeries> series) => Without(series, Turning.Moves);

    /// <summary>The series without any cross-section of this visit.</summary>
    internal List<WatchedSeries> WithoutItsSections(IReadOnlyList<WatchedSeries> series) => Without(series, Turning.OfSection);

    List<WatchedSeries> Without(IReadOnlyList<WatchedSeries> series, Func<string, bool> leaves)
    {
        var day = Days.DayNumber(On);
        var kept = new List<WatchedSeries>(series.Count);
        foreach (var s in series)
        {
            var rest = leaves(s.Measure) ? s with { Observations = [.. s.Observations.Where(o => Days.CalendarDay(o.Day) != day)] } : s;
            if (rest.Observations.Count > 0)
                kept.Add(rest);
        }
        return kept;
    }

    /// <summary>
    /// Readings decide where they can; else it is no lean when one side has moved and the other has not. The sides moved by shared −
    /// turned and shared + turned: one of them is at most a third of the other while what they share lies between half and twice what
    /// they turned by.
    /// </summary>
    bool IsNoChange(LeanRule rule)
    {
        if (ByReadings is { } read)
        {
            var odds = Math.Exp(Turned.Value * (read.Value - Turned.Value / 2) / (read.Sd * read.Sd));
            if (odds >= rule.ReadingOdds)
                return true;
            if (odds <= 1 / rule.ReadingOdds)
                return false;
        }
        var (shared, turned) = (Math.Abs(SharedDegrees), Math.Abs(Turned.Value));
        return shared <= rule.SharedDegrees || shared < turned / 2 || shared > turned * 2;
    }
}
