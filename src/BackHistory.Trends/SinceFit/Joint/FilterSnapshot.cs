namespace BackHistory.Trends;

/// <summary>Where a filter stood after a visit.</summary>
internal readonly struct FilterSnapshot(double day, double[] x, double[] p, double logLikelihood)
{
    readonly double[] _x = (double[])x.Clone(), _p = (double[])p.Clone();

    internal double Day { get; } = day;
    internal double LogLikelihood { get; } = logLikelihood;

    internal void Restore(double[] toX, double[] toP)
    {
        Array.Copy(_x, toX, toX.Length);
        Array.Copy(_p, toP, toP.Length);
    }
}

/// <summary>Several answers of a filter, weighed by their likelihood and told as the one normal distribution with their mean and covariance.</summary>
internal sealed class FilterMixture(int size)
{
    readonly List<(double[] X, double[] P, double LogWeight)> _parts = [];

    internal void Add(double[] x, double[] p, double logWeight) => _parts.Add(((double[])x.Clone(), (double[])p.Clone(), logWeight));

    internal void Tell(double[] x, double[] p)
    {
        var top = _parts.Max(r => r.LogWeight);
        var sum = _parts.Sum(r => Math.Exp(r.LogWeight - top));
        Array.Clear(x);
        Array.Clear(p);
        foreach (var part in _parts)
            for (var i = 0; i < size; i++) x[i] += Math.Exp(part.LogWeight - top) / sum * part.X[i];
        foreach (var part in _parts)
        {
            var weight = Math.Exp(part.LogWeight - top) / sum;
            for (var i = 0; i < size; i++)
                for (var j = 0; j < size; j++) p[i * size + j] += weight * (part.P[i * size + j] + (part.X[i] - x[i]) * (part.X[j] - x[j]));
        }
    }
}
