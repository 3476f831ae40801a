namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// Mean and covariance of a pattern's level, its slope, its level at the baseline and the offsets of hands. Of the symmetric covariance
/// only the upper half is kept: a decision takes thousands of these steps.
/// </summary>
internal sealed class MovementState(int size)
{
    internal const int Level = 0,
        Slope = 1,
        Baseline = 2,
        FirstHands = 3;

    readonly double[] _x = new double[size],
        _p = new double[size * size],
        _row = new double[size];

    internal int Size => size;
    internal double Day { get; set; }
    internal double LogLikelihood { get; set; }

    /// <summary>How likely the score taken in last was a slip of the hand.</summary>
    internal double Slip { get; private set; }

    internal ref double Mean(int i) => ref _x[i];

    internal ref double Covariance(int i, int j) => ref i <= j ? ref _p[i * size + j] : ref _p[j * size + i];

    internal void CopyFrom(MovementState other)
    {
        Array.Copy(other._x, _x, _x.Length);
        Array.Copy(other._p, _p, _p.Length);
        (Day, LogLikelihood, Slip) = (other.Day, other.LogLikelihood, other.Slip);
    }

    internal void Clear()
    {
        Array.Clear(_x);
        Array.Clear(_p);
        (LogLikelihood, Slip) = (0, 0);
    }

    /// <summary>The slope is drawn anew at a pace; the level may jump.</summary>
    internal void BeginMoving(double pace, double jump = 0)
    {
        for (var j = 0; j < size; j++)
            Covariance(Slope, j) = 0;
        _x[Slope] = 0;
        Covariance(Slope, Slope) = pace * pace;
        Covariance(Level, Level) += jump * jump;
    }

    /// <summary>The level of today becomes the baseline's.</summary>
    internal void SetBaseline()
    {
        for (var j = 0; j < size; j++)
            if (j != Baseline)
                Covariance(Baseline, j) = Covariance(Level, j);
        Covariance(Baseline, Baseline) = Covariance(Level, Level);
        _x[Baseline] = _x[Level];
    }

    internal void Advance(double toDay, double pace, DriftSteps steps)
    {
        var days = toDay - Day;
        if (days <= 0)
            return;
        Day = toDay;
        var step = steps.Of(days, pace);
        var p = _p.AsSpan();
        _x[Level] += step.Reach * _x[Slope];
        _x[Slope] *= step.Decay;
        var (level, both, slope) = (p[Level * size + Level], p[Level * size + Slope], p[Slope * size + Slope]);
        p[Level * size + Level] = level + 2 * step.Reach * both + step.Reach * step.Reach * slope + step.LevelVariance;
        p[Level * size + Slope] = step.Decay * (both + step.Reach * slope) + step.Covariance;
        p[Slope * size + Slope] = step.Decay * step.Decay * slope + step.SlopeVariance;
        var levels = p.Slice(Level * size, size);
        var slopes = p.Slice(Slope * size, size);
        for (var j = Baseline; j < levels.Length; j++)
        {
            levels[j] += step.Reach * slopes[j];
            slopes[j] *= step.Decay;
        }
    }

    /// <summary>The first score gives the diffuse level its value: level = score − hands − noise.</summary>
    internal void Begin(double value, double variance, int hands)
    {
        _x[Level] = value;
        Covariance(Level, Level) = variance;
        if (hands < 0)
            return;
        Covariance(Level, Level) += Covariance(hands, hands);
        for (var g = FirstHands; g < size; g++)
            Covariance(Level, g) = -Covariance(hands, g);
    }

    /// <summary>
    /// Takes in one score. Where a single measure stands for the pattern its value may be a slip of the hand: noise is then a mixture of
    /// two normal distributions, and the state after it is told as the one normal distribution with the mixture's mean and covariance.
    /// </summary>
    /// <param name="hands">Place of the hands' offset in the state, −1 for none.</param>
    /// <param name="slipShare">Share of slips; 0 = none.</param>
    /// <param name="slipExtra">Variance that a slip adds.</param>
    internal void Observe(double value, double variance, int hands, double slipShare, double slipExtra)
    {
        for (var j = 0; j < size; j++)
            _row[j] = _p[j];
        if (hands >= 0)
            for (var j = 0; j < size; j++)
                _row[j] += Covariance(hands, j);
        var f = _row[Level] + (hands >= 0 ? _row[hands] : 0) + variance;
        var innovation = value - _x[Level] - (hands >= 0 ? _x[hands] : 0);
        var (gain, shrink) = slipShare == 0 ? Plain(f, innovation) : Mixed(f, f + slipExtra, innovation, slipShare);
        var row = _row.AsSpan();
        for (var i = 0; i < row.Length; i++)
        {
            _x[i] += row[i] * gain * innovation;
            var weight = row[i] * shrink;
            var p = _p.AsSpan(i * size, size);
            for (var j = i; j < p.Length; j++)
                p[j] -= weight * row[j];
        }
    }

    (double Gain, double Shrink) Plain(double f, double innovation)
    {
        LogLikelihood -= 0.5 * (Math.Log(f) + innovation * innovation / f);
        return (1 / f, 1 / f);
    }

    (double Gain, double Shrink) Mixed(double f, double slipped, double innovation, double share)
    {
        var plain = (1 - share) / Math.Sqrt(f) * Math.Exp(-0.5 * innovation * innovation / f);
        var slip = share / Math.Sqrt(slipped) * Math.Exp(-0.5 * innovation * innovation / slipped);
        var total = plain + slip;
        if (total < 1e-300)
        {
            // So far out that only a slip is left.
            Slip = 1;
            LogLikelihood += Math.Log(share) - 0.5 * (Math.Log(slipped) + innovation * innovation / slipped);
            return (1 / slipped, 1 / slipped);
        }
        LogLikelihood += Math.Log(total);
        Slip = slip / total;
        var gain = (1 - Slip) / f + Slip / slipped;
        var square = (1 - Slip) / (f * f) + Slip / (slipped * slipped);
        return (gain, gain - innovation * innovation * (square - gain * gain));
    }
}
