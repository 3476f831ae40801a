using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit;

/// <summary>The visit that a saddle's setting is measured from.</summary>
/// <param name="DaysOff">Visit minus setting in days; 0 = the saddle was set to that very visit. Shown wherever it is not 0.</param>
public sealed record Baseline(DateOnly Visit, int DaysOff)
{
    /// <summary>The visit of that day, else the nearest within the rule's days (the earlier of two equally near), else null: the baseline
    /// is then unknown.</summary>
    public static Baseline? Choose(DateOnly saddleSet, IEnumerable<DateOnly> visits, WatchRules rules)
    {
        Baseline? best = null;
        foreach (var visit in visits)
        {
            var off = visit.DayNumber - saddleSet.DayNumber;
            if (Math.Abs(off) > rules.BaselineWithinDays)
                continue;
            if (best is null || Math.Abs(off) < Math.Abs(best.DaysOff) || (Math.Abs(off) == Math.Abs(best.DaysOff) && off < best.DaysOff))
                best = new(visit, off);
        }
        return best;
    }
}
