namespace BackHistory.Trends;

/// <summary>
/// Kalman filter of a pattern's size: state level, slope, level at the baseline, then one offset for each pair of hands. The level starts diffuse (its first
/// score), the slope at the process's own spread; at the baseline the slope is drawn anew, so that only what came after speaks for a movement since.
/// </summary>
internal sealed class MovementFilter
{
    const int L = 0, S = 1, B = 2, FirstHands = 3;
    readonly PatternScores _scores;
    readonly double _baseline, _persistence;
    readonly int _size, _next;
    readonly double[] _x, _p;
    readonly double[] _xAtBaseline, _pAtBaseline, _row;

    internal MovementFilter(PatternScores scores, int hands, double baselineDay, MovementPrior prior)
    {
        (_scores, _persistence) = (scores, prior.PersistenceDays);
        var several = scores.PersonVariance > 0 && SeveralHands(scores.Visits);
        _size = FirstHands + (several ? hands : 0);
        (_x, _p, _row) = (new double[_size], new double[_size * _size], new double[_size]);
        _baseline = Math.Max(baselineDay, scores.Visits[0].Day);
        _next = RunToBaseline(prior.BeforePace);
        (_xAtBaseline, _pAtBaseline) = ((double[])_x.Clone(), (double[])_p.Clone());
    }

    /// <summary>One pair of hands throughout cancels from every change; unnamed hands need no offset that lasts.</summary>
    static bool SeveralHands(IReadOnlyList<PatternScores.Score> visits)
    {
        var named = false;
        for (var v = 0; v < visits.Count; v++)
        {
            named |= visits[v].Hands != VisitTable.Unnamed;
            if (named && visits[v].Hands != visits[0].Hands) return true;
        }
        return false;
    }

    int RunToBaseline(double pace)
    {
        for (var h = FirstHands; h < _size; h++) _p[h * _size + h] = _scores.PersonVariance;
        _p[S * _size + S] = pace * pace;
        var now = _scores.Visits[0].Day;
        var next = 0;
        for (; next < _scores.Visits.Count && _scores.Visits[next].Day <= _baseline; next++)
        {
            Advance(_scores.Visits[next].Day - now, pace);
            now = _scores.Visits[next].Day;
            if (next == 0) Begin(_scores.Visits[0]);
            else Observe(_scores.Visits[next]);
        }
        Advance(_baseline - now, pace);
        return next;
    }

    /// <summary>The visits after the baseline under one pace.</summary>
    internal Movement Run(double pace)
    {
        Array.Copy(_xAtBaseline, _x, _size);
        Array.Copy(_pAtBaseline, _p, _p.Length);
        for (var j = 0; j < _size; j++) _p[B * _size + j] = _p[L * _size + j];
        for (var j = 0; j < _size; j++) _p[j * _size + B] = _p[j * _size + L];
        _x[B] = _x[L];
        for (var j = 0; j < _size; j++) _p[S * _size + j] = _p[j * _size + S] = 0;
        _x[S] = 0;
        _p[S * _size + S] = pace * pace;
        double logLikelihood = 0;
        var now = _baseline;
        for (var v = _next; v < _scores.Visits.Count; v++)
        {
            Advance(_scores.Visits[v].Day - now, pace);
            now = _scores.Visits[v].Day;
            logLikelihood += Observe(_scores.Visits[v]);
        }
        return new(now, _x[L] - _x[B], _x[S],
            Math.Max(0, _p[L * _size + L] - 2 * _p[L * _size + B] + _p[B * _size + B]), _p[L * _size + S] - _p[B * _size + S], _p[S * _size + S],
            logLikelihood, pace, _persistence);
    }

    void Advance(double days, double pace)
    {
        if (days <= 0) return;
        var step = DriftStep.Of(days, pace, _persistence);
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

    double Observe(PatternScores.Score score)
    {
        var h = Hands(score);
        for (var j = 0; j < _size; j++) _row[j] = _p[L * _size + j] + (h >= 0 ? _p[h * _size + j] : 0);
        var f = _row[L] + (h >= 0 ? _row[h] : 0) + score.Variance + Unnamed(score);
        var innovation = score.Value - _x[L] - (h >= 0 ? _x[h] : 0);
        for (var i = 0; i < _size; i++)
        {
            var gain = _row[i] / f;
            _x[i] += gain * innovation;
            for (var j = 0; j < _size; j++) _p[i * _size + j] -= gain * _row[j];
        }
        return -0.5 * (Math.Log(f) + innovation * innovation / f);
    }

    int Hands(PatternScores.Score score) => _size > FirstHands && score.Hands != VisitTable.Unnamed ? FirstHands + score.Hands : -1;

    /// <summary>Hands without a name bring an offset of their own each time.</summary>
    double Unnamed(PatternScores.Score score) => score.Hands == VisitTable.Unnamed ? _scores.PersonVariance : 0;
}
