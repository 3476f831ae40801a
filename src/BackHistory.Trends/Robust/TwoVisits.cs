using BackHistory.Trends.Series;

namespace BackHistory.Trends.Robust;

/// <summary>Comparison without a model: two visits, each the weighted mean of its UTC day.</summary>
public static class TwoVisits
{
    /// <param name="atDay">The last visit on or before the calendar day of this instant is compared.</param>
    /// <param name="baselineDay">With the visit nearest this day (the earlier of two equally near); null = with the first.</param>
    /// <returns>Null when there is no visit on or before <paramref name="atDay"/>, or both are the same visit.</returns>
    public static VisitDifference? Compare(IReadOnlyList<Observation> observations, NoiseLayers noise, double atDay, double? baselineDay)
    {
        var visits = observations.GroupBy(o => Days.CalendarDay(o.Day)).OrderBy(g => g.Key).ToList();
        var last = visits.LastOrDefault(v => v.Key <= Days.CalendarDay(atDay));
        if (last is null)
            return null;
        var first = baselineDay is { } b ? visits.MinBy(v => Math.Abs(v.Key - Days.CalendarDay(b)))! : visits[0];
        if (first.Key == last.Key)
            return null;

        var raters = new Dictionary<string, double>(StringComparer.Ordinal);
        double change = 0,
            variance = 2 * noise.VisitSd * noise.VisitSd,
            unnamed = 0;
        foreach (var (visit, sign) in new[] { (last, 1), (first, -1) })
        {
            var total = visit.Sum(o => 1 / (o.Sd * o.Sd));
            foreach (var o in visit)
            {
                var weight = 1 / (o.Sd * o.Sd) / total;
                change += sign * weight * o.Value;
                // An unnamed hand is a hand of its own; a named one keeps its offset, so that it cancels between the visits.
                if (o.By is null)
                    unnamed += weight * weight;
                else
                    raters[o.By] = raters.GetValueOrDefault(o.By) + sign * weight;
            }
            variance += 1 / total;
        }
        variance += noise.PersonSd * noise.PersonSd * (unnamed + raters.Values.Sum(w => w * w));
        var sd = Math.Sqrt(variance);
        return new(change, sd, Normal.Z95 * sd, first.Key, last.Key);
    }
}
