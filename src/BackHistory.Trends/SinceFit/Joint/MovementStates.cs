namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>Several answers of a filter, weighed by their likelihood and told as the one normal distribution with their mean and
/// covariance.</summary>
internal sealed class MovementStates
{
    readonly List<(MovementState State, double LogWeight)> _parts = [];

    internal void Add(MovementState state, double logWeight)
    {
        var copy = new MovementState(state.Size);
        copy.CopyFrom(state);
        _parts.Add((copy, logWeight + state.LogLikelihood));
    }

    internal void TellInto(MovementState told)
    {
        var top = _parts.Max(r => r.LogWeight);
        var sum = _parts.Sum(r => Math.Exp(r.LogWeight - top));
        told.Clear();
        told.Day = _parts[0].State.Day;
        foreach (var (state, logWeight) in _parts)
            for (var i = 0; i < told.Size; i++)
                told.Mean(i) += Math.Exp(logWeight - top) / sum * state.Mean(i);
        foreach (var (state, logWeight) in _parts)
        {
            var weight = Math.Exp(logWeight - top) / sum;
            for (var i = 0; i < told.Size; i++)
            for (var j = i; j < told.Size; j++)
                told.Covariance(i, j) +=
                    weight * (state.Covariance(i, j) + (state.Mean(i) - told.Mean(i)) * (state.Mean(j) - told.Mean(j)));
        }
    }
}
