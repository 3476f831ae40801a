using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// Whether a refit or a caution rests on one visit whose tracings lean alike. Until lean is a part of the model, such a decision waits:
/// the visit is traced again, and a second visit that says the same settles it. One that does not ends it: what the first said of left
/// and right is left out from then on.
/// </summary>
static class LeaningVisit
{
    /// <param name="decide">The decision on series with everything in them taken as it stands, on a day.</param>
    internal static HorseDecision Settle(
        IReadOnlyList<WatchedSeries> series,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        Func<IReadOnlyList<WatchedSeries>, HorseDecision> decide
    )
    {
        asOfDay = HorseJudge.MomentOf(series, asOfDay);
        var disowned = new List<VisitLean>();
        var found = decide(series);
        while (TurnOf(found, rules) is not 0 and var turn)
        {
            var days = VisitLean.TracedDays(series, baselineDay, asOfDay);
            if (RestsOn(found, turn, series, baselineDay, days, rules) is not { } lean)
                break;
            series = lean.WithoutItsSides(series);
            var rest = decide(series);
            if (lean.On == Days.DateOf(days[^1]))
                return Wait(found, rest, lean, disowned, rules);
            disowned.Add(lean);
            found = rest;
        }
        return disowned.Count == 0 ? found : found with { LeftOut = disowned };
    }

    /// <summary>
    /// The leaning visit without which the others do not say what was found. The last visit first: while that one waits nothing is told.
    /// The baseline is not asked of: every change is counted from it.
    /// </summary>
    static VisitLean? RestsOn(
        HorseDecision found,
        int turn,
        IReadOnlyList<WatchedSeries> series,
        double baselineDay,
        IReadOnlyList<double> days,
        WatchRules rules
    )
    {
        for (var v = days.Count - 1; v > 0; v--)
        {
            var others = days.Where(d => d != days[v]).ToList();
            if (VisitLean.Find(series, days[v], others, rules) is not { } lean || Math.Sign(lean.Turned.Value) != turn)
                continue;
            if (BorneOut(lean, series, days, v))
                continue;
            // Its widths are left out here too: how much both sides have moved says nothing of one of them. And the others speak for the
            // day on which they were taken:
            // time that passes bears nothing out.
            var without = HorseJudge.Found(lean.WithoutItsSections(series), baselineDay, others[^1], rules);
            if (!SaysTheSame(found, without, turn, rules))
                return lean;
        }
        return null;
    }

    /// <summary>Later visits that on average have turned the same way at least half as far (rule of thumb).</summary>
    static bool BorneOut(VisitLean lean, IReadOnlyList<WatchedSeries> series, IReadOnlyList<double> days, int visit)
    {
        var before = days.Take(visit).ToList();
        var turned = days.Skip(visit + 1).SelectMany(day => SidesTurned.Find(series, day, before)).Select(s => s.Turned.Value).ToList();
        return turned.Count > 0 && turned.Average() / lean.Turned.Value >= 0.5;
    }

    /// <summary>
    /// What is said while it waits: the decision of everything else, with no caution, and no refit where that or a caution is what waits.
    /// </summary>
    static HorseDecision Wait(HorseDecision found, HorseDecision rest, VisitLean lean, IReadOnlyList<VisitLean> disowned, WatchRules rules)
    {
        // Narrowed on both sides is a refit without the leaning visit too; but while a caution waits, nobody is sent to change the saddle.
        var refit = found.Caution is null && rest.State == WatchState.Refit && TurnOf(rest, rules) == 0;
        return rest with
        {
            State = refit ? WatchState.Refit : WatchState.Unknown,
            Caution = null,
            ReassessOn = Earlier(found.ReassessOn, rest.ReassessOn),
            Leaning = lean,
            LeftOut = disowned,
        };
    }

    static bool SaysTheSame(HorseDecision found, HorseDecision other, int turn, WatchRules rules) =>
        found.Caution is { } caution
            ? string.Equals(other.Caution?.Side, caution.Side, StringComparison.Ordinal)
            : other.State == WatchState.Refit && TurnOf(other, rules) == turn;

    /// <summary>
    /// 1 when a refit or a caution says what a clockwise turn would say (the right has lost, the left has filled), −1 for an
    /// anticlockwise one, 0 when it says nothing of left against right, or there is neither.
    /// </summary>
    static int TurnOf(HorseDecision decision, WatchRules rules)
    {
        if (decision.Caution is { } caution)
            return caution.Side == "right" ? 1 : -1;
        if (decision.State != WatchState.Refit)
            return 0;
        var shares = new double[3];
        foreach (var p in decision.Patterns)
        {
            var rule = rules.Patterns.FirstOrDefault(r => string.Equals(r.Name, p.Name, StringComparison.Ordinal));
            shares[1 + (rule is null ? 0 : Turning.SignOf(rule) * Math.Sign(p.Change.Value))] += p.Share;
        }
        return Array.IndexOf(shares, shares.Max()) - 1;
    }

    static DateOnly? Earlier(DateOnly? a, DateOnly? b) => a is null || b < a ? b : a;
}
