namespace BackHistory.Trends;

/// <summary>The decision on a horse since its saddle was last set (method.md section 7), over all watched measures at once.</summary>
public static class SinceFit
{
    /// <param name="series">The watched measures; those without observations are passed over.</param>
    /// <param name="baselineDay">The day of the visit that the saddle was set to (<see cref="Baseline.Choose"/>).</param>
    /// <param name="asOfDay">The day decided on; observations after it were not known then and are left out.</param>
    /// <param name="previousState">The state of the decision before this one since the same baseline, null = none: it holds a little longer.</param>
    public static HorseDecision Decide(
        IReadOnlyList<WatchedSeries> series, double baselineDay, double asOfDay, WatchRules rules, WatchState? previousState = null,
        HorseCircumstances? circumstances = null)
    {
        var known = KnownBy(series, asOfDay);
        var measures = known.Select(s => MeasureJudge.Judge(s, baselineDay, asOfDay)).ToArray();
        var thresholds = measures.Select(m => m.Threshold).ToArray();
        var joint = JointEvidence.Of(known, thresholds, baselineDay, asOfDay, rules);
        if (joint is null) return NothingKnown(baselineDay, asOfDay, rules);

        for (var i = 0; i < measures.Length; i++)
            measures[i] = measures[i] with { P = joint.PastThreshold(i, asOfDay), MeasureAgain = joint.Slip(i) >= rules.MeasureAgainBar };
        var p = joint.PastThreshold(asOfDay);
        var state = StateAt(joint, asOfDay, p, rules, previousState);
        var (forecast, reassessOn) = Ahead(joint, asOfDay, rules, state);
        var caution = VetCautionJudge.Of(joint, known, asOfDay, rules);
        var decision = new HorseDecision(
            state, p, DateOf(baselineDay), DateOf(asOfDay), measures, DriverOf(measures), PatternReport.Of(joint, rules.Movement, asOfDay), forecast,
            [.. Enumerable.Range(0, 13).Select(m => joint.PastThreshold(asOfDay + m * DriftProcess.YearDays / 12))],
            NextCheckRule.Of(known, measures, baselineDay, forecast, rules.Calendar, circumstances ?? HorseCircumstances.Unknown),
            reassessOn, caution, [], rules.Version);
        return decision with { Statements = Explanation.Of(decision, rules) };
    }

    static List<WatchedSeries> KnownBy(IReadOnlyList<WatchedSeries> series, double asOfDay)
    {
        var known = new List<WatchedSeries>(series.Count);
        foreach (var s in series)
        {
            var later = s.Observations.Any(o => o.Day > asOfDay);
            var kept = later ? s with { Observations = [.. s.Observations.Where(o => o.Day <= asOfDay)] } : s;
            if (kept.Observations.Count > 0) known.Add(kept);
        }
        return known;
    }

    static WatchState StateAt(JointEvidence joint, double day, double p, WatchRules rules, WatchState? previous)
    {
        var bars = rules.Bars;
        if (p >= bars.Refit || (previous == WatchState.Refit && p >= bars.RefitEnds)) return WatchState.Refit;
        if (joint.Ignorance(day) > 1) return WatchState.Unknown;
        if (p >= bars.Watch || (previous == WatchState.Watch && p >= bars.WatchEnds)) return WatchState.Watch;
        return WatchState.Steady;
    }

    static MeasureDecision? DriverOf(MeasureDecision[] measures)
    {
        MeasureDecision? driver = null;
        foreach (var m in measures)
            if (driver is null || m.P > driver.P + 1e-9 || (m.P > driver.P - 1e-9 && (m.Alone?.P ?? 0) > (driver.Alone?.P ?? 0))) driver = m;
        return driver;
    }

    /// <summary>
    /// A walk into the future by weeks, then by days within the week in which something happens (the probabilities move slowly): when the chance of a passed
    /// threshold reaches the forecast's bars, and when the state would be another though nothing new was measured.
    /// </summary>
    static (Forecast Forecast, DateOnly? ReassessOn) Ahead(JointEvidence joint, double asOfDay, WatchRules rules, WatchState state)
    {
        ReadOnlySpan<double> bars = [0.10, 0.50, 0.90];
        var found = new DateOnly?[3];
        DateOnly? reassess = null;
        var start = Math.Floor(asOfDay);
        Look(asOfDay, found, ref reassess, bars);
        for (var week = 7; week < Forecast.HorizonDays + 7 && (found[2] is null || reassess is null); week += 7)
        {
            var end = Math.Min(week, Forecast.HorizonDays);
            var p = joint.PastThreshold(start + end);
            var news = reassess is null && StateAt(joint, start + end, p, rules, state) != state;
            for (var i = 0; i < 3; i++) news |= found[i] is null && p >= bars[i];
            if (!news) continue;
            for (var day = week - 6; day <= end; day++) Look(start + day, found, ref reassess, bars);
        }
        return (new(found[0], found[1], found[2]), reassess);

        void Look(double day, DateOnly?[] first, ref DateOnly? change, ReadOnlySpan<double> at)
        {
            var p = joint.PastThreshold(day);
            for (var i = 0; i < 3; i++) if (p >= at[i]) first[i] ??= DateOf(day);
            if (day > asOfDay && StateAt(joint, day, p, rules, state) != state) change ??= DateOf(day);
        }
    }

    static HorseDecision NothingKnown(double baselineDay, double asOfDay, WatchRules rules)
    {
        var decision = new HorseDecision(
            WatchState.Unknown, null, DateOf(baselineDay), DateOf(asOfDay), [], null, [], null, [], new(DateOf(asOfDay), CheckReason.NoVisit), null, null, [], rules.Version);
        return decision with { Statements = Explanation.Of(decision, rules) };
    }

    static DateOnly DateOf(double day) => Days.DateOf(day) ?? DateOnly.MaxValue;
}
