namespace BackHistory.Trends;

/// <summary>
/// All watched measures of a horse as one question: it is steady, or one of the patterns moves at one of the paces. Each answer is weighed by how much better
/// it foretold the visits since the baseline than "steady" did. The posterior odds bound the false alarms of the whole horse over all its visits since the fit
/// (Ville 1939): the number of measures does not enter.
/// </summary>
internal sealed class JointEvidence
{
    internal readonly record struct Hypothesis(int Pattern, Movement Movement, double Weight);

    readonly MovementPrior _prior;
    readonly List<Hypothesis> _moving = [];
    readonly double _steady;
    readonly Movement[] _ignorant;

    internal WatchedPattern[] Patterns { get; }
    internal IReadOnlyList<Hypothesis> Moving => _moving;
    internal bool MeasuredSinceBaseline { get; }

    /// <summary>Null when nothing has been measured.</summary>
    internal static JointEvidence? Of(IReadOnlyList<WatchedSeries> series, double[] thresholds, double baselineDay, double asOfDay, WatchRules rules)
    {
        var table = VisitTable.Of(series, thresholds, asOfDay);
        return table.Days.Length == 0 ? null : new(series, table, baselineDay, rules);
    }

    JointEvidence(IReadOnlyList<WatchedSeries> series, VisitTable table, double baselineDay, WatchRules rules)
    {
        _prior = rules.Movement;
        Patterns = WatchedPattern.From(series, rules);
        MeasuredSinceBaseline = table.Days[^1] > Math.Max(baselineDay, table.Days[0]);
        _ignorant = new Movement[Patterns.Length];
        var logWeights = new List<(int Pattern, Movement Movement, double LogWeight)>();
        for (var f = 0; f < Patterns.Length; f++)
        {
            var scores = PatternScores.Of(Patterns[f], table, series, _prior);
            if (scores.Visits.Count == 0) continue;
            var filter = new MovementFilter(scores, table.Hands, baselineDay, _prior);
            var still = filter.Run(_prior.SteadyPace).LogLikelihood;
            foreach (var scale in _prior.Scales)
            {
                var movement = filter.Run(scale.Pace);
                logWeights.Add((f, movement, Math.Log(_prior.MovingShare * Patterns[f].Weight * scale.Share) + movement.LogLikelihood - still));
            }
            if (Patterns[f].Rule is { Essential: true }) _ignorant[f] = filter.Run(_prior.IgnorancePace);
        }
        _steady = Weigh(logWeights);
    }

    double Weigh(List<(int Pattern, Movement Movement, double LogWeight)> logWeights)
    {
        var steady = Math.Log(1 - _prior.MovingShare);
        var top = steady;
        foreach (var w in logWeights) top = Math.Max(top, w.LogWeight);
        var sum = Math.Exp(steady - top);
        foreach (var w in logWeights) sum += Math.Exp(w.LogWeight - top);
        foreach (var w in logWeights) _moving.Add(new(w.Pattern, w.Movement, Math.Exp(w.LogWeight - top) / sum));
        return Math.Exp(steady - top) / sum;
    }

    /// <summary>Probability that at least one watched measure is past its threshold on a day.</summary>
    internal double PastThreshold(double day)
    {
        double p = 0;
        foreach (var h in _moving)
        {
            var reach = Patterns[h.Pattern].Loadings.Max(Math.Abs);
            p += h.Weight * Beyond(h.Movement.After(Ahead(h.Movement, day)), 1 / reach);
            if (MeasuredSinceBaseline) p += Fresh(h, day, 1 / reach);
        }
        return Math.Min(1, p);
    }

    /// <summary>The same for one series.</summary>
    internal double PastThreshold(int series, double day)
    {
        double p = 0;
        foreach (var h in _moving)
        {
            var loading = LoadingOf(h.Pattern, series);
            if (loading == 0) continue;
            p += h.Weight * Beyond(h.Movement.After(Ahead(h.Movement, day)), 1 / Math.Abs(loading));
            if (MeasuredSinceBaseline) p += Fresh(h, day, 1 / Math.Abs(loading));
        }
        return Math.Min(1, p);
    }

    /// <summary>A horse found steady at its last visit may begin to move the day after, as any horse may after a fit.</summary>
    double Fresh(Hypothesis h, double day, double bar)
    {
        var share = ScaleShare(h.Movement.Pace);
        var step = new Movement(0, 0, 0, 0, 0, h.Movement.Pace * h.Movement.Pace, 0, h.Movement.Pace, _prior.PersistenceDays).After(Ahead(h.Movement, day));
        return step.Sd == 0 ? 0 : _steady * _prior.MovingShare * Patterns[h.Pattern].Weight * share * Beyond(step, bar);
    }

    double ScaleShare(double pace)
    {
        foreach (var scale in _prior.Scales) if (scale.Pace == pace) return scale.Share;
        return 0;
    }

    /// <summary>The largest sd, in thresholds, of the size of an essential pattern if the back were moving: above 1 the data cannot tell.</summary>
    internal double Ignorance(double day)
    {
        double most = 0;
        for (var f = 0; f < Patterns.Length; f++)
            if (_ignorant[f].Pace > 0) most = Math.Max(most, _ignorant[f].After(Ahead(_ignorant[f], day)).Sd);
        return most;
    }

    internal double LoadingOf(int pattern, int series)
    {
        var members = Patterns[pattern].Series;
        for (var m = 0; m < members.Length; m++) if (members[m] == series) return Patterns[pattern].Loadings[m];
        return 0;
    }

    internal static double Ahead(Movement movement, double day) => Math.Max(0, day - movement.Day);

    static double Beyond(Estimate size, double bar)
    {
        if (size.Sd == 0) return Math.Abs(size.Value) > bar ? 1 : 0;
        return Normal.Cdf((size.Value - bar) / size.Sd) + Normal.Cdf((-size.Value - bar) / size.Sd);
    }
}
