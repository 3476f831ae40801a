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
        var measures = known.Select(s => MeasureJudge.Judge(s, baselineDay, asOfDay, rules)).ToArray();
        var thresholds = measures.Select(m => m.Threshold).ToArray();
        var joint = JointEvidence.Of(known, thresholds, baselineDay, asOfDay, rules);
        if (joint is null) return NothingKnown(baselineDay, asOfDay, rules);

        for (var i = 0; i < measures.Length; i++) measures[i] = measures[i] with { P = joint.PastThreshold(i, asOfDay) };
        var p = joint.PastThreshold(asOfDay);
        var state = StateOf(joint, asOfDay, rules, previousState);
        var forecast = ForecastOf(joint, asOfDay);
        var caution = VetCautionJudge.Of(joint, known, asOfDay, rules.VetCaution);
        var decision = new HorseDecision(
            state, p, DateOf(baselineDay), DateOf(asOfDay), measures, DriverOf(measures), PatternReport.Of(joint, asOfDay), forecast,
            NextCheckRule.Of(known, measures, baselineDay, forecast, rules.Calendar, circumstances ?? HorseCircumstances.Unknown),
            ReassessOn(joint, asOfDay, rules, state), caution, [], rules.Version);
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

    static WatchState StateOf(JointEvidence joint, double day, WatchRules rules, WatchState? previous)
    {
        var p = joint.PastThreshold(day);
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

    static Forecast ForecastOf(JointEvidence joint, double asOfDay)
    {
        double[] bars = [0.10, 0.50, 0.90];
        var found = new DateOnly?[3];
        for (var i = 0; i < 3; i++)
        {
            var bar = bars[i];
            found[i] = FirstDay(asOfDay, day => joint.PastThreshold(day) >= bar);
        }
        return new(found[0], found[1], found[2]);
    }

    /// <summary>The state as it would stand if nothing else were measured; held states count as the previous one.</summary>
    static DateOnly? ReassessOn(JointEvidence joint, double asOfDay, WatchRules rules, WatchState state) =>
        FirstDay(asOfDay, day => StateOf(joint, day, rules, state) != state);

    /// <summary>The first day within the horizon at which something holds: a walk by weeks, then by days. Probabilities here move slowly.</summary>
    static DateOnly? FirstDay(double from, Func<double, bool> holds)
    {
        if (holds(from)) return DateOf(from);
        var start = Math.Floor(from);
        for (var week = 7; week < Forecast.HorizonDays + 7; week += 7)
        {
            if (!holds(start + Math.Min(week, Forecast.HorizonDays))) continue;
            for (var day = week - 6; day <= Math.Min(week, Forecast.HorizonDays); day++)
                if (holds(start + day)) return DateOf(start + day);
        }
        return null;
    }

    static HorseDecision NothingKnown(double baselineDay, double asOfDay, WatchRules rules)
    {
        var decision = new HorseDecision(
            WatchState.Unknown, null, DateOf(baselineDay), DateOf(asOfDay), [], null, [], null, new(DateOf(asOfDay), CheckReason.NoVisit), null, null, [], rules.Version);
        return decision with { Statements = Explanation.Of(decision, rules) };
    }

    static DateOnly DateOf(double day) => Days.DateOf(day) ?? DateOnly.MaxValue;
}
