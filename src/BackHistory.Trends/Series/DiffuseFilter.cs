namespace BackHistory.Trends.Series;

/// <summary>
/// Kalman filter with exact diffuse start by augmentation (de Jong 1991, Annals of Statistics 19:1073): the start and the hands are
/// regressors whose whitened rows are triangularised by rotations, so no large number stands in for "unknown" and q may be 0 or huge.
/// Frozen copies of the state at wanted dates are carried along (fixed-point smoothing), which gives level, slope and change with their
/// joint covariance given every observation. State: level, slope, offset of the current day, then (level, slope) of each frozen date.
/// </summary>
internal static class DiffuseFilter
{
    internal const int Level = 0,
        Slope = 1,
        Visit = 2,
        FirstFrozen = 3;

    internal static Posterior Run(VisitData data, DriftProcess process, ReadOnlySpan<double> freezeDays)
    {
        var order = new int[freezeDays.Length];
        for (var i = 0; i < order.Length; i++)
            order[i] = i;
        var days = freezeDays.ToArray();
        Array.Sort(days.ToArray(), order);

        var state = new FilterState(FirstFrozen + 2 * order.Length, data.People, process);
        var entries = data.Entries;
        var now = order.Length > 0 ? Math.Min(days[order[0]], entries[0].Day) : entries[0].Day;
        var sharedDay = VisitData.Nobody;
        var nextFreeze = 0;
        foreach (var entry in entries)
        {
            while (nextFreeze < order.Length && days[order[nextFreeze]] <= entry.Day)
            {
                state.Advance(days[order[nextFreeze]] - now);
                now = days[order[nextFreeze]];
                state.Freeze(order[nextFreeze++]);
            }
            state.Advance(entry.Day - now);
            now = entry.Day;
            if (entry.SharedDay != sharedDay)
            {
                state.NewVisit(entry.SharedDay == VisitData.Nobody ? 0 : data.VisitVariance);
                sharedDay = entry.SharedDay;
            }
            state.Observe(entry.Day, entry.Y, entry.Variance, entry.Person);
        }
        for (; nextFreeze < order.Length; nextFreeze++)
        {
            state.Advance(days[order[nextFreeze]] - now);
            now = days[order[nextFreeze]];
            state.Freeze(order[nextFreeze]);
        }
        return state.Finish(now, data);
    }
}
