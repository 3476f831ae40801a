using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// A pattern's scores under every hypothesis: since the baseline the back is steady until it begins to move after one of the visits; then
/// its slope is drawn at the pace of the movement.
/// </summary>
internal sealed class MovementFilter
{
    /// <summary>Movements that began earlier than this many visits ago are told together, as begun at the baseline.</summary>
    const int MostOnsets = 6,
        MostOnsetsAlone = 4;

    readonly PatternScores _scores;
    readonly MovementPrior _prior;
    readonly DriftSteps _steps;
    readonly int _reference;
    readonly double _outlierShare,
        _outlierExtra;
    readonly MovementState _state;

    /// <summary>The steady back at the baseline and after each visit at which a movement may begin.</summary>
    readonly MovementState[] _onsets;
    readonly MovementState _last;

    /// <summary>Position among the visits of the first after the baseline, and of the first whose onset is told by itself.</summary>
    readonly int _first,
        _skip;

    internal MovementFilter(PatternScores scores, int raters, double baselineDay, MovementPrior prior, bool oneMeasure, DriftSteps steps)
    {
        (_scores, _prior, _steps) = (scores, prior, steps);
        (_outlierShare, _outlierExtra) = (oneMeasure ? prior.OutlierShare : 0, prior.OutlierSize * prior.OutlierSize - 1);
        var (several, unnamed) = HandsOf(scores.Visits);
        // Where every visit has a name the diffuse level takes in the offset of one of them, and the others count from it.
        _reference = several && !unnamed ? scores.Visits[0].Rater : VisitTable.Unnamed;
        var offsets = scores.PersonVariance > 0 && several ? raters - (_reference >= 0 ? 1 : 0) : 0;
        _state = New(offsets);
        Baseline = Math.Max(baselineDay, scores.Visits[0].Day);
        _first = BeforeBaseline();
        var since = scores.Visits.Length - _first;
        _skip = Math.Max(0, since - (oneMeasure ? MostOnsetsAlone : MostOnsets));
        _onsets = new MovementState[Math.Min(since, Math.Max(1, since - _skip))];
        _last = New(offsets);
        RunSteady(offsets);
    }

    static MovementState New(int offsets) => new(MovementState.FirstRater + offsets);

    /// <summary>Probability that the last score is an outlier, if the back has been steady; 0 where the pattern has more than
    /// one measure.</summary>
    internal double LastOutlier => _first < _scores.Visits.Length ? _last.Outlier : 0;

    /// <summary>The day from which changes count: the baseline, or the first visit if that is later.</summary>
    internal double Baseline { get; }

    internal int Onsets => _onsets.Length;

    /// <summary>Between which days a movement of this onset begins: from the baseline or a visit to the next visit that is told by
    /// itself.</summary>
    internal (double From, double To) Begins(int onset) =>
        (_onsets[onset].Day, _scores.Visits[_first + (onset == 0 ? _skip : _skip + onset)].Day);

    /// <summary>A movement at one scale; its likelihood is relative to a steady back.</summary>
    internal Movement Run(int onset, MovementScale scale)
    {
        _state.CopyFrom(_onsets[onset]);
        _state.BeginMoving(scale.Pace, scale.Jump);
        for (var v = _first + (onset == 0 ? 0 : _skip + onset); v < _scores.Visits.Length; v++)
            Take(v, scale.Pace);
        return MovementFrom(_state, scale.Pace, _state.LogLikelihood - _last.LogLikelihood);
    }

    /// <summary>What is known at the last visit if the back has been steady.</summary>
    internal Movement Steady() => MovementFrom(_last, _prior.SteadyPace, 0);

    static Movement MovementFrom(MovementState s, double pace, double logLikelihood)
    {
        const int l = MovementState.Level,
            b = MovementState.Baseline,
            slope = MovementState.Slope;
        return new(
            s.Day,
            s.Mean(l) - s.Mean(b),
            s.Mean(slope),
            Math.Max(0, s.Covariance(l, l) - 2 * s.Covariance(l, b) + s.Covariance(b, b)),
            s.Covariance(l, slope) - s.Covariance(slope, b),
            s.Covariance(slope, slope),
            logLikelihood,
            pace
        );
    }

    /// <summary>One pair of hands throughout cancels from every change; unnamed hands need no offset that lasts.</summary>
    static (bool Several, bool Unnamed) HandsOf(PatternScores.Score[] visits)
    {
        var (several, unnamed, named) = (false, false, false);
        foreach (var visit in visits)
        {
            unnamed |= visit.Rater == VisitTable.Unnamed;
            named |= visit.Rater != VisitTable.Unnamed;
            several |= visit.Rater != visits[0].Rater;
        }
        return (several && named, unnamed);
    }

    /// <summary>
    /// What the visits up to the baseline say of the level then, whatever the pace was: the paces' answers weighed by how well they
    /// foretold those visits, and told as one normal distribution.
    /// </summary>
    int BeforeBaseline()
    {
        var next = 0;
        if (_scores.Visits.Length > 1 && _scores.Visits[1].Day <= Baseline)
        {
            var mixture = new MovementStates();
            foreach (var scale in _prior.Scales)
                mixture.Add(RunToBaseline(scale.Pace, out next), Math.Log(scale.Share / 2));
            mixture.Add(RunToBaseline(_prior.SteadyPace, out next), Math.Log(0.5));
            mixture.TellInto(_state);
        }
        else
            _state.CopyFrom(RunToBaseline(_prior.SteadyPace, out next));
        _state.SetBaseline();
        return next;
    }

    MovementState RunToBaseline(double pace, out int next)
    {
        _state.Clear();
        for (var h = MovementState.FirstRater; h < _state.Size; h++)
        for (var g = h; g < _state.Size; g++)
            _state.Covariance(h, g) = _scores.PersonVariance * ((h == g ? 1 : 0) + (_reference >= 0 ? 1 : 0));
        _state.BeginMoving(pace);
        _state.Day = _scores.Visits[0].Day;
        _state.Begin(_scores.Visits[0].Value, VarianceOf(_scores.Visits[0]), Place(_scores.Visits[0]));
        for (next = 1; next < _scores.Visits.Length && _scores.Visits[next].Day <= Baseline; next++)
            Take(next, pace);
        _state.Advance(Baseline, pace, _steps);
        return _state;
    }

    void RunSteady(int offsets)
    {
        _state.BeginMoving(_prior.SteadyPace);
        _state.LogLikelihood = 0;
        for (var v = _first; v < _scores.Visits.Length; v++)
        {
            var onset = v == _first ? 0 : v - _first - _skip;
            if (onset > 0 || v == _first)
                (_onsets[onset] = New(offsets)).CopyFrom(_state);
            Take(v, _prior.SteadyPace);
        }
        _last.CopyFrom(_state);
    }

    void Take(int visit, double pace)
    {
        var score = _scores.Visits[visit];
        _state.Advance(score.Day, pace, _steps);
        _state.Observe(score.Value, VarianceOf(score), Place(score), _outlierShare, _outlierExtra * score.Variance);
    }

    /// <summary>Place of a visit's hands in the state; −1 for unnamed hands, for the reference, and where one pair took all.</summary>
    int Place(PatternScores.Score score)
    {
        if (_state.Size == MovementState.FirstRater || score.Rater == VisitTable.Unnamed || score.Rater == _reference)
            return -1;
        return MovementState.FirstRater + score.Rater - (_reference >= 0 && score.Rater > _reference ? 1 : 0);
    }

    /// <summary>Hands without a name bring an offset of their own each time.</summary>
    double VarianceOf(PatternScores.Score score) => score.Variance + (score.Rater == VisitTable.Unnamed ? _scores.PersonVariance : 0);
}
