namespace BackHistory.Trends;

/// <summary>
/// Kalman filter of a pattern's size: state level, slope, level at the baseline, then one offset for each pair of hands. The level starts diffuse (its first
/// score). Since the baseline the back is steady until it begins to move after one of the visits; then its slope is drawn at the pace of the movement.
/// </summary>
internal sealed class MovementFilter
{
    const int L = 0, S = 1, B = 2, FirstHands = 3;
    /// <summary>Movements that began earlier than this many visits ago are told together, as begun at the baseline.</summary>
    const int MostOnsets = 6, MostOnsetsAlone = 4;

    readonly PatternScores _scores;
    readonly MovementPrior _prior;
    readonly int _size, _hands, _reference;
    readonly bool _oneMeasure;
    readonly double _slipShare, _slipVariance;
    readonly double[] _x, _p, _row;
    double _slip;
    readonly FilterSnapshot[] _steady;

    /// <summary>Position among the visits of the first after the baseline.</summary>
    readonly int _first;

    internal MovementFilter(PatternScores scores, int hands, double baselineDay, MovementPrior prior, bool oneMeasure)
    {
        (_scores, _prior) = (scores, prior);
        _oneMeasure = oneMeasure;
        _slipShare = oneMeasure ? prior.SlipShare : 0;
        _slipVariance = prior.SlipSize * prior.SlipSize - 1;
        var (several, unnamed) = HandsOf(scores.Visits);
        // Where every visit has a name the diffuse level takes in the offset of one of them, and the others count from it.
        _reference = several && !unnamed ? scores.Visits[0].Hands : VisitTable.Unnamed;
        _hands = scores.PersonVariance > 0 && several ? hands : 0;
        _size = FirstHands + _hands - (_reference >= 0 && _hands > 0 ? 1 : 0);
        (_x, _p, _row) = (new double[_size], new double[_size * _size], new double[_size]);
        Baseline = Math.Max(baselineDay, scores.Visits[0].Day);
        _first = BeforeBaseline();
        _steady = RunSteady();
    }

    /// <summary>Probability that the last score is a slip of the hand if the back has been steady; 0 where the pattern has more than one measure.</summary>
    internal double LastSlip { get; private set; }

    /// <summary>The day from which changes count: the baseline, or the first visit if that is later.</summary>
    internal double Baseline { get; }
    int VisitsSince => _scores.Visits.Length - _first;

    /// <summary>Days after which a movement may have begun: the baseline and the later visits but the last.</summary>
    internal IEnumerable<(int Onset, double From, double To)> Onsets()
    {
        if (VisitsSince == 0) yield break;
        var skip = Math.Max(0, VisitsSince - (_oneMeasure ? MostOnsetsAlone : MostOnsets));
        yield return (0, Baseline, _scores.Visits[_first + skip].Day);
        for (var j = skip + 1; j < VisitsSince; j++) yield return (j, _scores.Visits[_first + j - 1].Day, _scores.Visits[_first + j].Day);
    }

    /// <summary>A movement at one scale, begun after visit number <paramref name="onset"/> since the baseline; its likelihood is relative to a steady back.</summary>
    internal Movement Run(int onset, MovementScale scale)
    {
        var pace = scale.Pace;
        _steady[onset].Restore(_x, _p);
        BeginMoving(pace, scale.Jump);
        double logLikelihood = 0;
        var now = _steady[onset].Day;
        for (var v = _first + onset; v < _scores.Visits.Length; v++)
        {
            Advance(_scores.Visits[v].Day - now, pace);
            now = _scores.Visits[v].Day;
            logLikelihood += Observe(_scores.Visits[v]);
        }
        return Told(now, pace, logLikelihood - (_steady[^1].LogLikelihood - _steady[onset].LogLikelihood));
    }

    /// <summary>What is known at the last visit if the back has been steady.</summary>
    internal Movement Steady()
    {
        _steady[^1].Restore(_x, _p);
        return Told(_steady[^1].Day, _prior.SteadyPace, 0);
    }

    Movement Told(double day, double pace, double logLikelihood) => new(
        day, _x[L] - _x[B], _x[S], Math.Max(0, _p[L * _size + L] - 2 * _p[L * _size + B] + _p[B * _size + B]), _p[L * _size + S] - _p[B * _size + S],
        _p[S * _size + S], logLikelihood, pace);

    /// <summary>One pair of hands throughout cancels from every change; unnamed hands need no offset that lasts.</summary>
    static (bool Several, bool Unnamed) HandsOf(PatternScores.Score[] visits)
    {
        var (several, unnamed, named) = (false, false, false);
        foreach (var visit in visits)
        {
            unnamed |= visit.Hands == VisitTable.Unnamed;
            named |= visit.Hands != VisitTable.Unnamed;
            several |= visit.Hands != visits[0].Hands;
        }
        return (several && named, unnamed);
    }

    /// <summary>
    /// What the visits up to the baseline say of the level then, whatever the pace was: the paces' answers weighed by how well they foretold those visits, and
    /// told as one normal distribution.
    /// </summary>
    int BeforeBaseline()
    {
        var next = 0;
        if (_scores.Visits.Length > 1 && _scores.Visits[1].Day <= Baseline)
        {
            var mixture = new FilterMixture(_size);
            foreach (var scale in _prior.Scales) mixture.Add(_x, _p, Math.Log(scale.Share / 2) + RunToBaseline(scale.Pace, out next));
            mixture.Add(_x, _p, Math.Log(0.5) + RunToBaseline(_prior.SteadyPace, out next));
            mixture.Tell(_x, _p);
        }
        else RunToBaseline(_prior.SteadyPace, out next);

        for (var j = 0; j < _size; j++) _p[B * _size + j] = _p[L * _size + j];
        for (var j = 0; j < _size; j++) _p[j * _size + B] = _p[j * _size + L];
        _x[B] = _x[L];
        return next;
    }

    double RunToBaseline(double pace, out int next)
    {
        Array.Clear(_x);
        Array.Clear(_p);
        for (var h = FirstHands; h < _size; h++)
            for (var g = FirstHands; g < _size; g++) _p[h * _size + g] = _scores.PersonVariance * ((h == g ? 1 : 0) + (_reference >= 0 ? 1 : 0));
        _p[S * _size + S] = pace * pace;
        double logLikelihood = 0;
        var now = _scores.Visits[0].Day;
        for (next = 0; next < _scores.Visits.Length && _scores.Visits[next].Day <= Baseline; next++)
        {
            Advance(_scores.Visits[next].Day - now, pace);
            now = _scores.Visits[next].Day;
            if (next == 0) Begin(_scores.Visits[0]);
            else logLikelihood += Observe(_scores.Visits[next]);
        }
        Advance(Baseline - now, pace);
        return logLikelihood;
    }

    FilterSnapshot[] RunSteady()
    {
        BeginMoving(_prior.SteadyPace);
        var snapshots = new FilterSnapshot[VisitsSince + 1];
        snapshots[0] = new(Baseline, _x, _p, 0);
        for (var j = 1; j <= VisitsSince; j++)
        {
            var visit = _scores.Visits[_first + j - 1];
            Advance(visit.Day - snapshots[j - 1].Day, _prior.SteadyPace);
            var logLikelihood = snapshots[j - 1].LogLikelihood + Observe(visit);
            LastSlip = _slip;
            snapshots[j] = new(visit.Day, _x, _p, logLikelihood);
        }
        return snapshots;
    }

    void BeginMoving(double pace, double jump = 0)
    {
        _p[L * _size + L] += jump * jump;
        for (var j = 0; j < _size; j++) _p[S * _size + j] = _p[j * _size + S] = 0;
        _x[S] = 0;
        _p[S * _size + S] = pace * pace;
    }

    void Advance(double days, double pace)
    {
        if (days <= 0) return;
        var step = DriftStep.Of(days, pace, _prior.PersistenceDays);
        _x[L] += step.Reach * _x[S];
        _x[S] *= step.Decay;
        for (var j = 0; j < _size; j++)
        {
            _p[L * _size + j] += step.Reach * _p[S * _size + j];
            _p[S * _size + j] *= step.Decay;
        }
        for (var j = 0; j < _size; j++)
        {
            _p[j * _size + L] += step.Reach * _p[j * _size + S];
            _p[j * _size + S] *= step.Decay;
        }
        _p[L * _size + L] += step.LevelVariance;
        _p[L * _size + S] += step.Covariance;
        _p[S * _size + L] += step.Covariance;
        _p[S * _size + S] += step.SlopeVariance;
    }

    /// <summary>The first score gives the diffuse level its value: level = score − hands − noise.</summary>
    void Begin(PatternScores.Score score)
    {
        _x[L] = score.Value;
        _p[L * _size + L] = score.Variance + Unnamed(score);
        if (Hands(score) is var h and >= 0)
        {
            _p[L * _size + L] += _p[h * _size + h];
            _p[L * _size + h] = _p[h * _size + L] = -_p[h * _size + h];
        }
    }

    /// <summary>
    /// Takes in one score and tells its log-likelihood. Where a single measure stands for the pattern its value may be a slip of the hand: noise is then a
    /// mixture of two normal distributions, and the state after it is told as the one normal distribution with the mixture's mean and covariance.
    /// </summary>
    double Observe(PatternScores.Score score)
    {
        var h = Hands(score);
        for (var j = 0; j < _size; j++) _row[j] = _p[L * _size + j] + (h >= 0 ? _p[h * _size + j] : 0);
        var f = _row[L] + (h >= 0 ? _row[h] : 0) + score.Variance + Unnamed(score);
        var innovation = score.Value - _x[L] - (h >= 0 ? _x[h] : 0);
        var (gain, spread, logLikelihood) = Weigh(f, f + _slipVariance * score.Variance, innovation);
        for (var i = 0; i < _size; i++)
        {
            _x[i] += _row[i] * gain * innovation;
            for (var j = 0; j < _size; j++) _p[i * _size + j] -= _row[i] * _row[j] * (gain - spread);
        }
        return logLikelihood;
    }

    (double Gain, double Spread, double LogLikelihood) Weigh(double f, double slipped, double innovation)
    {
        var plain = -0.5 * (Math.Log(f) + innovation * innovation / f);
        if (_slipShare == 0) return (1 / f, 0, plain);
        plain += Math.Log(1 - _slipShare);
        var slip = -0.5 * (Math.Log(slipped) + innovation * innovation / slipped) + Math.Log(_slipShare);
        var top = Math.Max(plain, slip);
        var total = Math.Exp(plain - top) + Math.Exp(slip - top);
        var w = _slip = Math.Exp(slip - top) / total;
        var mean = (1 - w) / f + w / slipped;
        var square = (1 - w) / (f * f) + w / (slipped * slipped);
        return (mean, innovation * innovation * (square - mean * mean), top + Math.Log(total));
    }

    /// <summary>Place of a visit's hands in the state; −1 for unnamed hands, for the reference, and where one pair took all.</summary>
    int Hands(PatternScores.Score score)
    {
        if (_size == FirstHands || score.Hands == VisitTable.Unnamed || score.Hands == _reference) return -1;
        return FirstHands + score.Hands - (_reference >= 0 && score.Hands > _reference ? 1 : 0);
    }

    /// <summary>Hands without a name bring an offset of their own each time.</summary>
    double Unnamed(PatternScores.Score score) => score.Hands == VisitTable.Unnamed ? _scores.PersonVariance : 0;
}
