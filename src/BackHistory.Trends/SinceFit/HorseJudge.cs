using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.Trends.SinceFit;

/// <summary>The decision on a horse since its saddle was last set (method.md section 7), over all watched measures at once.</summary>
public static class HorseJudge
{
    /// <param name="series">The watched measures; those without observations are passed over.</param>
    /// <param name="baselineDay">The day of the visit that the saddle was set to (<see cref="Baseline.Choose"/>). Where the first visit
    /// on record came later than the rules let a baseline be, nothing says which shape the saddle was set to: the state is
    /// unknown.</param>
    /// <param name="asOfDay">The day decided on; observations of later days were not known then and are left out.</param>
    /// <param name="previousState">The state of the decision before this one since the same baseline, null = none: it holds a little
    /// longer.</param>
    public static HorseDecision Decide(
        IReadOnlyList<WatchedSeries> series,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        WatchState? previousState = null,
        HorseCircumstances? circumstances = null
    ) =>
        LeaningVisit.Settle(
            series,
            baselineDay,
            asOfDay,
            rules,
            known => Found(known, baselineDay, asOfDay, rules, previousState, circumstances)
        );

    /// <summary>What is said where no visit near the day on which the saddle was set says which shape it was set to: the state is
    /// unknown, and the measures stand by themselves.</summary>
    /// <param name="setDay">The day on which the saddle was set.</param>
    public static HorseDecision WithoutBaseline(
        IReadOnlyList<WatchedSeries> series,
        double setDay,
        double asOfDay,
        WatchRules rules,
        HorseCircumstances? circumstances = null
    )
    {
        var known = KnownBy(series, MomentOf(series, asOfDay));
        return known.Count == 0
            ? NothingKnown(setDay, asOfDay, rules)
            : NoBaseline(known, MeasuresOf(known, setDay, asOfDay, rules), setDay, asOfDay, rules, circumstances);
    }

    static MeasureDecision[] MeasuresOf(List<WatchedSeries> known, double baselineDay, double asOfDay, WatchRules rules) =>
        [
            .. known.Select(s =>
                MeasureJudge.Judge(s with { Prior = s.Prior ?? rules.Learned?.DriftOf(s.Measure, s.Station) }, baselineDay, asOfDay)
            ),
        ];

    static HorseDecision NoBaseline(
        List<WatchedSeries> known,
        MeasureDecision[] measures,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        HorseCircumstances? circumstances
    ) =>
        NothingKnown(baselineDay, asOfDay, rules) with
        {
            Measures = measures,
            NextCheck = NextCheckRule.NextCheckFor(
                known,
                measures,
                baselineDay,
                null,
                rules.Calendar,
                circumstances ?? HorseCircumstances.Unknown
            ),
        };

    /// <summary>The decision with everything that was traced taken as it stands.</summary>
    internal static HorseDecision Found(
        IReadOnlyList<WatchedSeries> series,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        WatchState? previousState = null,
        HorseCircumstances? circumstances = null
    )
    {
        asOfDay = MomentOf(series, asOfDay);
        baselineDay = MomentOf(series, baselineDay);
        var known = KnownBy(series, asOfDay);
        var measures = MeasuresOf(known, baselineDay, asOfDay, rules);
        rules = rules.Effective;
        var thresholds = measures.Select(m => m.Threshold).ToArray();
        var joint = JointEvidence.Weigh(known, thresholds, baselineDay, asOfDay, rules);
        if (joint is null)
            return NothingKnown(baselineDay, asOfDay, rules);
        if (joint.FirstDay > baselineDay + rules.BaselineWithinDays)
            return NoBaseline(known, measures, baselineDay, asOfDay, rules, circumstances);

        var past = joint.PastThresholds(known.Count, asOfDay);
        var changes = joint.Changes(known.Count, asOfDay);
        for (var i = 0; i < measures.Length; i++)
            measures[i] = measures[i] with
            {
                P = past[i],
                MeasureAgain = joint.Outlier(i) >= rules.MeasureAgainBar,
                Together = new(changes[i].Value * thresholds[i], changes[i].Sd * thresholds[i]),
            };
        var p = joint.PastThreshold(asOfDay);
        var state = StateAt(joint, asOfDay, p, rules, previousState);
        var future = new Outlook(joint, asOfDay, rules, state);
        var forecast = future.Forecast();
        var caution = VetCautionJudge.Judge(joint, known, asOfDay, rules);
        if (caution is not null && !SecondSign.Bears(caution, known, thresholds, baselineDay, asOfDay, rules))
            caution = null;
        var decision = new HorseDecision(
            state,
            p.Any,
            DateOf(baselineDay),
            DateOf(asOfDay),
            measures,
            DriverOf(measures),
            PatternReport.Evidence(joint, rules.Movement, asOfDay),
            forecast,
            future.ByMonth,
            NextCheckRule.NextCheckFor(known, measures, baselineDay, forecast, rules.Calendar, circumstances ?? HorseCircumstances.Unknown),
            future.ReassessOn(),
            caution,
            [],
            rules.Version
        );
        return decision with { POneWay = p.OneWay };
    }

    /// <summary>A day that was measured stands for its visit: a date given as midnight must not fall before the visit of that same
    /// day.</summary>
    internal static double MomentOf(IReadOnlyList<WatchedSeries> series, double day)
    {
        var moment = day;
        foreach (var s in series)
        foreach (var o in s.Observations)
            if (o.Day > moment && Days.CalendarDay(o.Day) == Days.CalendarDay(day))
                moment = o.Day;
        return moment;
    }

    static List<WatchedSeries> KnownBy(IReadOnlyList<WatchedSeries> series, double asOfDay)
    {
        var known = new List<WatchedSeries>(series.Count);
        foreach (var s in series)
        {
            var later = s.Observations.Any(o => o.Day > asOfDay);
            var kept = later ? s with { Observations = [.. s.Observations.Where(o => o.Day <= asOfDay)] } : s;
            if (kept.Observations.Count > 0)
                known.Add(kept);
        }
        return known;
    }

    internal static WatchState StateAt(
        JointEvidence joint,
        double day,
        (double Any, double OneWay) p,
        WatchRules rules,
        WatchState? previous
    )
    {
        var bars = rules.Bars;
        // A shape is found to be another only in a direction; what was found stays so while nobody looks.
        if (p.OneWay >= bars.Refit || (previous == WatchState.Refit && p.Any >= bars.RefitEnds))
            return WatchState.Refit;
        if (joint.Ignorance(day) > 1)
            return WatchState.Unknown;
        if (p.Any >= bars.Watch || (previous == WatchState.Watch && p.Any >= bars.WatchEnds))
            return WatchState.Watch;
        return WatchState.Steady;
    }

    /// <summary>
    /// The likeliest to be past its limit. One that reads against what all together say is a poor witness: another that is half as likely
    /// (rule of thumb) and does not is named instead.
    /// </summary>
    static MeasureDecision? DriverOf(MeasureDecision[] measures)
    {
        var likeliest = Likeliest(measures);
        return
            likeliest is { TurnsTogether: true }
            && Likeliest(measures.Where(m => !m.TurnsTogether && m.P >= likeliest.P / 2)) is { } witness
            ? witness
            : likeliest;
    }

    static MeasureDecision? Likeliest(IEnumerable<MeasureDecision> measures)
    {
        MeasureDecision? best = null;
        foreach (var m in measures)
            if (best is null || m.P > best.P + 1e-9 || (m.P > best.P - 1e-9 && (m.Alone?.P ?? 0) > (best.Alone?.P ?? 0)))
                best = m;
        return best;
    }

    static HorseDecision NothingKnown(double baselineDay, double asOfDay, WatchRules rules)
    {
        return new HorseDecision(
            WatchState.Unknown,
            null,
            DateOf(baselineDay),
            DateOf(asOfDay),
            [],
            null,
            [],
            null,
            [],
            new(DateOf(asOfDay), CheckReason.NoVisit),
            null,
            null,
            [],
            rules.Version
        );
    }

    static DateOnly DateOf(double day) => Days.DateOf(day) ?? DateOnly.MaxValue;
}
