using BackHistory.Trends.Series;
using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Trends.Tests;

/// <summary>
/// The trend model by another road: Gaussian-process regression with a dense covariance matrix and generalised least squares, no filter.
/// The covariance of the integrated Wiener process from the earliest date on is q·(m³/3 + m²·(M − m)/2) with m, M the smaller and larger
/// time.
/// </summary>
sealed class Dense
{
    readonly Vector<double> _y;
    readonly Matrix<double> _x,
        _inverse,
        _information;
    readonly Vector<double> _beta;
    readonly double[] _t;
    readonly double _q,
        _start;

    internal Dense(IReadOnlyList<Observation> observations, NoiseLayers noise, double q, params double[] others)
    {
        _q = q;
        _start = observations.Select(o => o.Day).Concat(others).Min();
        _t = [.. observations.Select(o => o.Day - _start)];
        var n = _t.Length;
        _y = Vector<double>.Build.Dense(n, i => observations[i].Value);
        _x = Matrix<double>.Build.Dense(n, 2, (i, j) => j == 0 ? 1 : _t[i]);
        var covariance = Matrix<double>.Build.Dense(
            n,
            n,
            (i, j) =>
                Level(_t[i], _t[j])
                + (i == j ? observations[i].Sd * observations[i].Sd : 0)
                + (Math.Floor(observations[i].Day) == Math.Floor(observations[j].Day) ? noise.VisitSd * noise.VisitSd : 0)
                + (i == j || (observations[i].By is { } by && by == observations[j].By) ? noise.PersonSd * noise.PersonSd : 0)
        );
        _inverse = covariance.Inverse();
        _information = _x.Transpose() * _inverse * _x;
        _beta = _information.Inverse() * _x.Transpose() * _inverse * _y;
        var residual = _y - _x * _beta;
        LogLikelihood =
            -0.5
            * (
                Math.Log(covariance.Determinant())
                + Math.Log(_information.Determinant())
                + residual * _inverse * residual
                + (n - 2) * Math.Log(2 * Math.PI)
            );
    }

    internal double LogLikelihood { get; }

    double Level(double s, double t)
    {
        var (m, big) = (Math.Min(s, t), Math.Max(s, t));
        return _q * (m * m * m / 3 + m * m * (big - m) / 2);
    }

    /// <summary>Covariance of the slope at s with the level at t.</summary>
    double SlopeLevel(double s, double t) => _q * (t <= s ? t * t / 2 : s * t - s * s / 2);

    internal Uncertain LevelAt(double day) => Predict(t => Level(day - _start, t), Level(day - _start, day - _start), [1, day - _start]);

    internal Uncertain SlopeAt(double day) => Predict(t => SlopeLevel(day - _start, t), _q * (day - _start), [0, 1]);

    internal Uncertain Change(double from, double to)
    {
        var (a, b) = (from - _start, to - _start);
        return Predict(t => Level(b, t) - Level(a, t), Level(b, b) + Level(a, a) - 2 * Level(a, b), [0, b - a]);
    }

    Uncertain Predict(Func<double, double> covariance, double variance, double[] regressors)
    {
        var c = Vector<double>.Build.Dense(_t.Length, i => covariance(_t[i]));
        var f = Vector<double>.Build.Dense(regressors);
        var gap = f - _x.Transpose() * _inverse * c;
        return new(
            f * _beta + c * _inverse * (_y - _x * _beta),
            Math.Sqrt(Math.Max(0, variance - c * _inverse * c + gap * _information.Inverse() * gap))
        );
    }
}
