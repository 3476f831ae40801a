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
        FirstRater = 3;

    readonly double[] _x = new double[size],
        _p = new double[size * size],
        _row = new double[size];

    internal int Size => size;
    internal double Day { get; set; }
    internal double LogLikelihood { get; set; }

    /// <summary>How likely the score taken in last was an outlier, an outlier of the hand.</summary>
    internal double Outlier { get; private set; }

    internal ref double Mean(int i) => ref _x[i];

    internal ref double Covariance(int i, int j) => ref i <= j ? ref _p[i * size + j] : ref _p[j * size + i];

    internal void CopyFrom(MovementState other)
    {
        Array.Copy(other._x, _x, _x.Length);
        Array.Copy(other._p, _p, _p.Length);
        (Day, LogLikelihood, Outlier) = (other.Day, other.LogLikelihood, other.Outlier);
    }

    internal void Clear()
    {
        Array.Clear(_x);
        Array.Clear(_p);
        (LogLikelihood, Outlier) = (0, 0);
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
        var step = steps.StepFor(days, pace);
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
    internal void Begin(double value, double variance, int rater)
    {
        _x[Level] = value;
        Covariance(Level, Level) = variance;
        if (rater < 0)
            return;
        Covariance(Level, Level) += Covariance(rater, rater);
        for (var g = FirstRater; g < size; g++)
            Covariance(Level, g) = -Covariance(rater, g);
    }

    /// <summary>
    /// Takes in one score. Where a single measure stands for the pattern its value may be an outlier: noise is then a mixture of two
    /// normal distributions, and the state after it is told as the one normal distribution with the mixture's mean and covariance.
    /// </summary>
    /// <param name="rater">Place of the rater's offset in the state, −1 for none.</param>
    /// <param name="outlierShare">Share of outliers; 0 = none.</param>
    /// <param name="outlierExtra">Variance that an outlier adds.</param>
    internal void Observe(double value, double variance, int rater, double outlierShare, double outlierExtra)
    {
        for (var j = 0; j < size; j++)
            _row[j] = _p[j];
        if (rater >= 0)
            for (var j = 0; j < size; j++)
                _row[j] += Covariance(rater, j);
        var f = _row[Level] + (rater >= 0 ? _row[rater] : 0) + variance;
        var innovation = value - _x[Level] - (rater >= 0 ? _x[rater] : 0);
        var (gain, shrink) = outlierShare == 0 ? Plain(f, innovation) : Mixed(f, f + outlierExtra, innovation, outlierShare);
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

    (double Gain, double Shrink) Mixed(double f, double stray, double innovation, double share)
    {
        var plain = (1 - share) / Math.Sqrt(f) * Math.Exp(-0.5 * innovation * innovation / f);
        var outlier = share / Math.Sqrt(stray) * Math.Exp(-0.5 * innovation * innovation / stray);
        var total = plain + outlier;
        if (total < 1e-300)
        {
            // So far out that only an outlier is left.
            Outlier = 1;
            LogLikelihood += Math.Log(share) - 0.5 * (Math.Log(stray) + innovation * innovation / stray);
            return (1 / stray, 1 / stray);
        }
        LogLikelihood += Math.Log(total);
        Outlier = outlier / total;
        var gain = (1 - Outlier) / f + Outlier / stray;
        var square = (1 - Outlier) / (f * f) + Outlier / (stray * stray);
        return (gain, gain - innovation * innovation * (square - gain * gain));
    }
}
