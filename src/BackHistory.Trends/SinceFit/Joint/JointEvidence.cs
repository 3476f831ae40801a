using System.Runtime.InteropServices;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// All watched measures of a horse as one question: it is steady, or one of the patterns began to move after one of the visits at one of
/// the paces. Each answer is weighed by how much better it foretold the visits since the baseline than "steady" did. The posterior odds
/// bound the false alarms of the whole horse over all its visits since the fit (Ville 1939): the number of measures does not enter.
/// </summary>
internal sealed class JointEvidence
{
    internal readonly record struct Hypothesis(int Pattern, double Onset, Movement Movement, double Weight);

    /// <summary>A movement that begins after the last visit: nothing has been seen of it.</summary>
    internal readonly record struct Unseen(int Pattern, Movement Steady, double Share, double LastOutlier, double LastDay);

    /// <summary>A hundred hypotheses of this weight would move no probability by a thousandth.</summary>
    const double Negligible = 1e-6,
        Faint = 1e-3;

    readonly MovementPrior _prior;
    readonly List<Hypothesis> _moving = [];
    readonly List<Unseen> _unseen = [];
    readonly double _lastVisit;

    internal WatchedPattern[] Patterns { get; }
    internal IReadOnlyList<Hypothesis> Moving => _moving;

    /// <summary>Probability that nothing has moved up to the last visit.</summary>
    internal double Steady { get; }

    /// <summary>The first visit on record.</summary>
    internal double FirstDay { get; }

    /// <summary>From the baseline to the last visit.</summary>
    internal double YearsSeen { get; }

    /// <param name="learn">Takes in what a practice can learn from this horse.</param>
    /// <returns>Null when nothing has been measured.</returns>
    internal static JointEvidence? Weigh(
        IReadOnlyList<WatchedSeries> series,
        double[] thresholds,
        double baselineDay,
        double asOfDay,
        WatchRules rules,
        List<MovementCase.Alternative>? learn = null
    )
    {
        var table = VisitTable.From(series, thresholds, asOfDay, rules);
        return table.Days.Length == 0 ? null : new(series, table, thresholds, baselineDay, rules, learn);
    }

    JointEvidence(
        IReadOnlyList<WatchedSeries> series,
        VisitTable table,
        double[] thresholds,
        double baselineDay,
        WatchRules rules,
        List<MovementCase.Alternative>? learn
    )
    {
        _prior = rules.Movement;
        Patterns = WatchedPattern.From(series, thresholds, rules);
        var start = Math.Max(baselineDay, table.Days[0]);
        var steps = new DriftSteps(_prior.PersistenceDays);
        var noise = new VisitNoise(table, series, thresholds, rules);
        var weighed = new List<(Hypothesis Hypothesis, double LogWeight)>();
        for (var f = 0; f < Patterns.Length; f++)
        {
            var scores = PatternScores.Compare(Patterns[f], table, noise);
            if (scores.Visits.Length == 0)
                continue;
            var filter = new MovementFilter(scores, table.Raters, baselineDay, _prior, Patterns[f].Loaded == 1, steps);
            for (var onset = 0; onset < filter.Onsets; onset++)
            {
                var (from, to) = filter.Begins(onset);
                var (fromYears, toYears) = ((from - start) / 365.25, (to - start) / 365.25);
                var began = Patterns[f].Weight * (1 - _prior.Begins(from - start)) * _prior.Begins(to - from);
                for (var k = 0; k < _prior.Scales.Count; k++)
                {
                    var movement = filter.Run(onset, _prior.Scales[k]);
                    weighed.Add((new(f, from, movement, 0), Math.Log(began * _prior.Scales[k].Share) + movement.LogLikelihood));
                    learn?.Add(
                        new(Patterns[f].Name, k, fromYears, toYears, Patterns[f].Weight, Math.Exp(Math.Min(600, movement.LogLikelihood)))
                    );
                }
            }
            _unseen.Add(new(f, filter.Steady(), Patterns[f].Weight, filter.LastOutlier, scores.Visits[^1].Day));
        }
        _lastVisit = Days.CalendarDay(table.Days[^1]);
        FirstDay = table.Days[0];
        YearsSeen = (table.Days[^1] - start) / 365.25;
        Steady = Weigh(weighed, Math.Log(1 - _prior.Begins(table.Days[^1] - start)));
    }

    double Weigh(List<(Hypothesis Hypothesis, double LogWeight)> weighed, double steady)
    {
        var top = steady;
        foreach (var w in weighed)
            top = Math.Max(top, w.LogWeight);
        var sum = Math.Exp(steady - top);
        foreach (var w in weighed)
            sum += Math.Exp(w.LogWeight - top);
        // Faint hypotheses of one pattern and pace differ in their beginning alone; together they are told as one.
        var faint = new MovementMixture();
        foreach (var (hypothesis, logWeight) in weighed)
        {
            var weight = Math.Exp(logWeight - top) / sum;
            if (weight >= Faint)
                _moving.Add(hypothesis with { Weight = weight });
            else if (weight > Negligible)
                faint.Add(hypothesis with { Weight = weight });
        }
        faint.TellInto(_moving);
        return Math.Exp(steady - top) / sum;
    }

    /// <summary>
    /// Probability that at least one watched measure is past its threshold on a day; and the same with every pattern in its likelier
    /// direction only, which ignorance of where a back has gone does not raise past one half (method.md section 7).
    /// </summary>
    internal (double Any, double OneWay) PastThreshold(double day)
    {
        var prediction = new Prediction(_prior, day);
        Span<double> up = stackalloc double[Patterns.Length],
            down = stackalloc double[Patterns.Length];
        up.Clear();
        down.Clear();
        foreach (ref readonly var h in CollectionsMarshal.AsSpan(_moving))
        {
            var (grown, shrunk) = Tails(prediction.ValueFrom(h.Movement), 1 / Patterns[h.Pattern].Reach);
            up[h.Pattern] += h.Weight * grown;
            down[h.Pattern] += h.Weight * shrunk;
        }
        double any = 0,
            oneWay = 0;
        foreach (ref readonly var u in CollectionsMarshal.AsSpan(_unseen))
        {
            var p = Steady * u.Share * prediction.UnseenBeyond(u.Steady, 1 / Patterns[u.Pattern].Reach);
            up[u.Pattern] += p / 2;
            down[u.Pattern] += p / 2;
        }
        for (var f = 0; f < Patterns.Length; f++)
        {
            any += up[f] + down[f];
            oneWay += Math.Max(up[f], down[f]);
        }
        return (Math.Min(1, any), Math.Min(1, oneWay));
    }

    /// <summary>The same for each series.</summary>
    internal double[] PastThresholds(int series, double day)
    {
        var prediction = new Prediction(_prior, day);
        var p = new double[series];
        foreach (ref readonly var h in CollectionsMarshal.AsSpan(_moving))
        {
            var pattern = Patterns[h.Pattern];
            var size = prediction.ValueFrom(h.Movement);
            var (bar, beyond) = (0.0, 0.0);
            for (var m = 0; m < pattern.Series.Length; m++)
            {
                if (pattern.Loadings[m] == 0)
                    continue;
                var own = 1 / Math.Abs(pattern.Loadings[m]);
                if (own != bar)
                    (bar, beyond) = (own, Beyond(size, own));
                p[pattern.Series[m]] += h.Weight * beyond;
            }
        }
        foreach (ref readonly var u in CollectionsMarshal.AsSpan(_unseen))
        {
            var pattern = Patterns[u.Pattern];
            for (var m = 0; m < pattern.Series.Length; m++)
                if (pattern.Loadings[m] != 0)
                    p[pattern.Series[m]] += Steady * u.Share * prediction.UnseenBeyond(u.Steady, 1 / Math.Abs(pattern.Loadings[m]));
        }
        for (var i = 0; i < series; i++)
            p[i] = Math.Min(1, p[i]);
        return p;
    }

    /// <summary>Mean and sd of the change of each series, in its thresholds, over everything that may have happened; no movement counts
    /// as no change.</summary>
    internal Uncertain[] Changes(int series, double day)
    {
        var prediction = new Prediction(_prior, day);
        var (mean, square) = (new double[series], new double[series]);
        foreach (ref readonly var h in CollectionsMarshal.AsSpan(_moving))
        {
            var pattern = Patterns[h.Pattern];
            var size = prediction.ValueFrom(h.Movement);
            for (var m = 0; m < pattern.Series.Length; m++)
            {
                var (value, sd) = (pattern.Loadings[m] * size.Value, pattern.Loadings[m] * size.Sd);
                mean[pattern.Series[m]] += h.Weight * value;
                square[pattern.Series[m]] += h.Weight * (value * value + sd * sd);
            }
        }
        return [.. mean.Zip(square, (value, sq) => new Uncertain(value, Math.Sqrt(Math.Max(0, sq - value * value))))];
    }

    /// <summary>Probability that the value of a series at the horse's last visit is an outlier and not a movement that it
    /// belongs to.</summary>
    internal double Outlier(int series)
    {
        double moved = 0;
        foreach (var h in _moving)
            if (LoadingOf(h.Pattern, series) != 0)
                moved += h.Weight;
        foreach (var u in _unseen)
            if (Patterns[u.Pattern].Loaded == 1 && LoadingOf(u.Pattern, series) != 0 && u.LastDay >= _lastVisit)
                return (1 - moved) * u.LastOutlier;
        return 0;
    }

    /// <summary>The largest sd, in thresholds, of the size of an essential pattern if the back has moved since the last visit: above 1
    /// the data cannot tell.</summary>
    internal double Ignorance(double day)
    {
        var prediction = new Prediction(_prior, day);
        double most = 0;
        foreach (var u in _unseen)
            if (Patterns[u.Pattern].Rule is { Essential: true })
                most = Math.Max(most, prediction.SdIfMoving(u.Steady));
        return most;
    }

    internal double LoadingOf(int pattern, int series)
    {
        var members = Patterns[pattern].Series;
        for (var m = 0; m < members.Length; m++)
            if (members[m] == series)
                return Patterns[pattern].Loadings[m];
        return 0;
    }

    internal static double Beyond((double Value, double Sd) size, double bar)
    {
        var (up, down) = Tails(size, bar);
        return up + down;
    }

    static (double Up, double Down) Tails((double Value, double Sd) size, double bar)
    {
        if (size.Sd == 0)
            return (size.Value > bar ? 1 : 0, size.Value < -bar ? 1 : 0);
        // Eight sds away there is less than 1e-15.
        if (bar - Math.Abs(size.Value) > 8 * size.Sd)
            return (0, 0);
        return (Normal.Cdf((size.Value - bar) / size.Sd), Normal.Cdf((-size.Value - bar) / size.Sd));
    }
}
