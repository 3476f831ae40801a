using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Joint;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// A veterinary surgeon is called by two signs and not by one: that one side has lost is said by an earlier visit as well, or by the
/// readings of an inclinometer, which no sheet can lean.
/// </summary>
static class SecondSign
{
    /// <summary>What the earlier visits must say at least (rule of thumb): several times what is expected of a steady back, for half-way a
    /// loss is far from sure.</summary>
    const double EarlierBar = 0.05;

    /// <summary>By how many degrees the lost side must read steeper against the other than at the fit (rule of thumb).</summary>
    const double ReadDegrees = 2;

    /// <summary>
    /// Where the other side reads half of the loss as well (rule of thumb), a sheet that leans over a back that lost on both sides
    /// would read the same.
    /// </summary>
    const double OtherSide = 0.5;

    internal static bool Bears(
        VetCaution caution,
        IReadOnlyList<WatchedSeries> series,
        double[] thresholds,
        double baselineDay,
        double asOfDay,
        WatchRules rules
    )
    {
        var days = VisitLean.TracedDays(series, baselineDay, asOfDay);
        if (days.Count == 0)
            return false;
        var fit = Days.CalendarDay(baselineDay);
        // Readings go by gravity: where they say that one side has steepened, no sheet has leaned.
        return !OtherSideLostToo(caution, series, thresholds, fit, days[^1], rules)
            && (
                ByReadings(caution, series, fit, days[^1])
                || (days.Count > 2 && ByEarlierVisits(caution, series, thresholds, baselineDay, days, rules))
            );
    }

    /// <summary>At the caution's own station, or over all of them: one station alone is often off its place.</summary>
    static bool OtherSideLostToo(
        VetCaution caution,
        IReadOnlyList<WatchedSeries> series,
        double[] thresholds,
        double fit,
        double last,
        WatchRules rules
    )
    {
        var other = string.Equals(caution.Side, "left", StringComparison.Ordinal) ? "right" : "left";
        return Lost(caution.Station) || Lost(null);

        bool Lost(string? station) =>
            Changed(other, station) is { } there && Changed(caution.Side, station) is { } here && here < 0 && there <= OtherSide * here;

        // In limits, over the stations of which both visits were traced.
        double? Changed(string side, string? station)
        {
            var changes = new List<double>();
            for (var i = 0; i < series.Count; i++)
                if (
                    MeasureKey.Matches(rules.VetCaution.MeasureOn(side), series[i].Measure)
                    && (station is null || string.Equals(station, series[i].Station, StringComparison.Ordinal))
                    && SidesTurned.OfDay(series[i], fit) is { } then
                    && SidesTurned.OfDay(series[i], last) is { } now
                )
                    changes.Add((now - then) / thresholds[i]);
            return changes.Count == 0 ? null : changes.Average();
        }
    }

    static bool ByReadings(VetCaution caution, IReadOnlyList<WatchedSeries> series, double fit, double last)
    {
        var steepened = new List<double>();
        foreach (var station in series.Select(s => s.Station).Distinct(StringComparer.Ordinal))
        {
            var here = SidesTurned.At(series, station);
            if (
                here.TryGetValue("read-slope-left", out var left)
                && here.TryGetValue("read-slope-right", out var right)
                && SidesTurned.OfDay(left, last) is { } l
                && SidesTurned.OfDay(right, last) is { } r
                && SidesTurned.OfDay(left, fit) is { } leftThen
                && SidesTurned.OfDay(right, fit) is { } rightThen
            )
                steepened.Add(l - leftThen - (r - rightThen));
        }
        var side = string.Equals(caution.Side, "left", StringComparison.Ordinal) ? 1 : -1;
        return steepened.Count > 0 && side * steepened.Average() >= ReadDegrees;
    }

    static bool ByEarlierVisits(
        VetCaution caution,
        IReadOnlyList<WatchedSeries> series,
        double[] thresholds,
        double baselineDay,
        IReadOnlyList<double> days,
        WatchRules rules
    )
    {
        var (kept, limits) = (new List<WatchedSeries>(), new List<double>());
        for (var i = 0; i < series.Count; i++)
        {
            var earlier = series[i].Observations.Where(o => Days.CalendarDay(o.Day) < days[^1]).ToList();
            if (earlier.Count == 0)
                continue;
            kept.Add(series[i] with { Observations = earlier });
            limits.Add(thresholds[i]);
        }
        var before = kept.Max(s => s.Observations.Max(o => o.Day));
        return JointEvidence.Weigh(kept, [.. limits], baselineDay, before, rules) is { } joint
            && VetCautionJudge.Judge(joint, kept, before, rules with { VetCaution = rules.VetCaution with { Bar = EarlierBar } })
                is { } then
            && string.Equals(then.Side, caution.Side, StringComparison.Ordinal);
    }
}
