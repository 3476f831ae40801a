using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// Gross errors of a visit's sheets: all of it leans, or one station does. An ordinary lean is a part of the model; one of three degrees
/// and more is no draw from it. What such a visit says of left and right counts for nothing until it was traced again, or a later visit
/// says the same.
/// </summary>
static class LeaningVisit
{
    /// <summary>Three times what a visit leans by (rule of thumb).</summary>
    const double Gross = 3;

    /// <param name="decide">The decision on series with everything in them taken as it stands.</param>
    internal static HorseDecision Settle(
        IReadOnlyList<WatchedSeries> series,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        Func<IReadOnlyList<WatchedSeries>, HorseDecision> decide
    )
    {
        asOfDay = HorseJudge.MomentOf(series, asOfDay);
        var days = VisitLean.TracedDays(series, baselineDay, asOfDay);
        var leftOut = new List<VisitLean>();
        var askew = new List<AskewStation>();
        VisitLean? waits = null;
        var cleared = series;
        // The baseline is not asked of: every change is counted from it.
        for (var v = days.Count - 1; v > 0; v--)
        {
            IReadOnlyList<double> before = [.. days.Take(v)],
                after = [.. days.Skip(v + 1)];
            if (VisitLean.Find(cleared, days[v], [.. before, .. after], rules) is { } lean && Math.Abs(lean.Turned.Value) >= Gross)
            {
                if (BorneOut(lean, cleared, before, after))
                    continue;
                cleared = lean.WithoutItsSides(cleared);
                if (v == days.Count - 1)
                    waits = lean;
                else
                    leftOut.Add(lean);
                continue;
            }
            foreach (var station in AskewStation.Find(cleared, days[v], before, after).ToList())
            {
                cleared = station.WithoutItsSides(cleared);
                if (v == days.Count - 1)
                    askew.Add(station);
            }
        }
        var decision = decide(cleared);
        if (leftOut.Count > 0)
            decision = decision with { LeftOut = leftOut };
        if (askew.Count > 0)
            decision = decision with
            {
                Measures =
                [
                    .. decision.Measures.Select(m =>
                        askew.Exists(a => string.Equals(a.Station, m.Station, StringComparison.Ordinal)) && Turning.Moves(m.Measure)
                            ? m with
                            {
                                MeasureAgain = true,
                            }
                            : m
                    ),
                ],
            };
        return waits is null ? decision : Waiting(decision, waits);
    }

    /// <summary>Later visits that on average have turned the same way at least half as far (rule of thumb).</summary>
    static bool BorneOut(VisitLean lean, IReadOnlyList<WatchedSeries> series, IReadOnlyList<double> before, IReadOnlyList<double> after)
    {
        var turned = after.SelectMany(day => SidesTurned.Find(series, day, before)).Select(s => s.Turned.Value).ToList();
        return turned.Count > 0 && turned.Average() / lean.Turned.Value >= 0.5;
    }

    /// <summary>A refit that stands without the visit stays; of anything else nobody knows until it was traced again. No caution is told
    /// of sides that were not taken.</summary>
    static HorseDecision Waiting(HorseDecision rest, VisitLean lean) =>
        rest with
        {
            State = rest.State == WatchState.Refit ? WatchState.Refit : WatchState.Unknown,
            Caution = null,
            Leaning = lean,
        };
}
