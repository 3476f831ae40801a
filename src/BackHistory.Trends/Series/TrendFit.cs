namespace BackHistory.Trends.Series;

/// <summary>
/// The trend of one measure of one horse (method.md section 6): continuous-time local linear trend with diffuse start, exact for
/// irregular and repeated dates, equal to the cubic smoothing spline with λ = noise²/q (Wahba 1978, J. R. Statist. Soc. B 40:364). Every
/// observation is used, whatever date is asked. With observations of a single UTC day only the level of that day is known; the rest
/// answers null.
/// </summary>
public sealed class TrendFit
{
    readonly VisitData _data;
    readonly DriftProcess _process;

    TrendFit(VisitData data, double? q, DriftProcess process, NoiseLayers noise)
    {
        (_data, Q, _process, Noise) = (data, q, process, noise);
    }

    /// <summary>Drift intensity in unit²/day³, given or estimated; null when all observations are of one day.</summary>
    public double? Q { get; }
    public NoiseLayers Noise { get; }

    /// <summary>Number of UTC calendar days with observations.</summary>
    public int DayCount => _data.DayCount;
    public double FirstDay => _data.FirstDay;
    public double LastDay => _data.LastDay;
    bool OneDay => Q is null;

    /// <param name="observations">At least one, in any order.</param>
    /// <param name="q">Drift intensity in unit²/day³, 0 = a straight line; null = the posterior mode given
    /// <paramref name="prior"/>.</param>
    /// <param name="prior">Null = <see cref="DriftPrior.RuleOfThumb"/>.</param>
    /// <exception cref="ArgumentException">No observation, a number that is not finite, a standard deviation not above zero, or a
    /// negative q.</exception>
    public static TrendFit Fit(IReadOnlyList<Observation> observations, NoiseLayers noise, double? q = null, DriftPrior? prior = null)
    {
        if (q is not null && !(q >= 0 && double.IsFinite(q.Value)))
            throw new ArgumentException("The drift intensity q is finite and not negative.", nameof(q));
        var data = VisitData.From(observations, noise);
        if (data.DayCount == 1)
            return new(data, null, new(0, WithSlope: false), noise);
        var drift = q ?? DriftSearch.Mode(data, prior ?? DriftPrior.RuleOfThumb(data.MedianVariance));
        return new(data, drift, new(drift), noise);
    }

    /// <summary>The true value at a date, before, between or after the observations.</summary>
    public Uncertain? Level(double day)
    {
        if (OneDay && Days.CalendarDay(day) != Days.CalendarDay(_data.FirstDay))
            return null;
        return OneDay
            ? DiffuseFilter.Run(_data, _process, []).EstimateOf([1, 0, 0], 1)
            : DiffuseFilter.Run(_data, _process, [day]).EstimateOf([0, 0, 0, 1, 0], 1);
    }

    /// <summary>Rate of change at a date, in unit per day.</summary>
    public Uncertain? Slope(double day) => OneDay ? null : DiffuseFilter.Run(_data, _process, [day]).EstimateOf([0, 0, 0, 0, 1], 0);

    /// <summary>Level at <paramref name="toDay"/> minus level at <paramref name="fromDay"/>, with the joint covariance of the
    /// two.</summary>
    public Uncertain? Change(double fromDay, double toDay)
    {
        if (OneDay)
            return null;
        if (fromDay == toDay)
            return new(0, 0);
        return DiffuseFilter.Run(_data, _process, [fromDay, toDay]).EstimateOf([0, 0, 0, -1, 0, 1, 0], 0);
    }

    /// <summary>Levels at two dates and the change between them, from one pass.</summary>
    internal (Uncertain? From, Uncertain? To) Between(double fromDay, double toDay, out Uncertain? change)
    {
        change = null;
        if (OneDay)
            return (Level(fromDay), Level(toDay));
        var posterior = DiffuseFilter.Run(_data, _process, [fromDay, toDay]);
        change = fromDay == toDay ? new(0, 0) : posterior.EstimateOf([0, 0, 0, -1, 0, 1, 0], 0);
        return (posterior.EstimateOf([0, 0, 0, 1, 0, 0, 0], 1), posterior.EstimateOf([0, 0, 0, 0, 0, 1, 0], 1));
    }

    /// <summary>The last day's entries against what all others foretell of it, in standard deviations; null with fewer than three days
    /// before it.</summary>
    internal double? SurpriseOfLastDay()
    {
        if (DayCount < 4 || _data.BeforeLastDay() is not { } others)
            return null;
        var foretold = DiffuseFilter.Run(others, _process, [_data.LastDay]).EstimateOf([0, 0, 0, 1, 0], 1);
        double weight = 0,
            value = 0,
            ofRater = 0;
        for (var i = _data.Entries.Length - 1; i >= 0 && Days.CalendarDay(_data.Entries[i].Day) >= Days.CalendarDay(_data.LastDay); i--)
        {
            var e = _data.Entries[i];
            weight += 1 / e.Variance;
            value += (e.Y + _data.Centre) / e.Variance;
            if (e.Person != VisitData.Nobody && !others.Entries.Any(o => o.Person == e.Person))
                ofRater = _data.PersonVariance;
        }
        return (value / weight - foretold.Value) / Math.Sqrt(foretold.Sd * foretold.Sd + 1 / weight + ofRater);
    }

    /// <summary>What one new observation at a date would read: the level's uncertainty plus the noise of a visit and of one
    /// tracing.</summary>
    /// <param name="traceSd">s_trace of that one observation.</param>
    public Uncertain? Reading(double day, double traceSd)
    {
        var level = Level(day);
        return level is null
            ? null
            : level with
            {
                Sd = Math.Sqrt(level.Sd * level.Sd + Noise.VisitSd * Noise.VisitSd + traceSd * traceSd),
            };
    }

    /// <summary>Level ± sd at each of the given dates, for a chart's band.</summary>
    public IReadOnlyList<(double Day, Uncertain Level)> Band(IEnumerable<double> days)
    {
        var band = new List<(double, Uncertain)>();
        foreach (var day in days)
            if (Level(day) is { } level)
                band.Add((day, level));
        return band;
    }

    /// <summary>Change since a date as a function of the days after <paramref name="startDay"/> (not before the last observation or the
    /// baseline).</summary>
    internal Func<double, Uncertain> ChangeAhead(double baselineDay, double startDay)
    {
        var posterior = DiffuseFilter.Run(_data, _process, [baselineDay, startDay]);
        var q = _process.Q;
        return ahead => posterior.EstimateOf([0, 0, 0, -1, 0, 1, ahead], 0, q * ahead * ahead * ahead / 3);
    }
}
