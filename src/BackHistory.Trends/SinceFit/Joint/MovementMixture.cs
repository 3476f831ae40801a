namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>Hypotheses of one pattern and one pace, told as the one with their mean and covariance.</summary>
internal sealed class MovementMixture
{
    sealed class Sum
    {
        internal double Weight,
            Onset,
            Change,
            Slope,
            ChangeSquare,
            Cross,
            SlopeSquare;
    }

    readonly Dictionary<(int Pattern, double Pace, double Day), Sum> _sums = [];

    internal void Add(in JointEvidence.Hypothesis h)
    {
        var m = h.Movement;
        if (!_sums.TryGetValue((h.Pattern, m.Pace, m.Day), out var sum))
            _sums[(h.Pattern, m.Pace, m.Day)] = sum = new();
        sum.Weight += h.Weight;
        sum.Onset += h.Weight * h.Onset;
        sum.Change += h.Weight * m.Change;
        sum.Slope += h.Weight * m.Slope;
        sum.ChangeSquare += h.Weight * (m.ChangeVariance + m.Change * m.Change);
        sum.Cross += h.Weight * (m.Covariance + m.Change * m.Slope);
        sum.SlopeSquare += h.Weight * (m.SlopeVariance + m.Slope * m.Slope);
    }

    internal void TellInto(List<JointEvidence.Hypothesis> hypotheses)
    {
        foreach (var ((pattern, pace, day), s) in _sums)
        {
            var (change, slope) = (s.Change / s.Weight, s.Slope / s.Weight);
            hypotheses.Add(
                new(
                    pattern,
                    s.Onset / s.Weight,
                    new(
                        day,
                        change,
                        slope,
                        Math.Max(0, s.ChangeSquare / s.Weight - change * change),
                        s.Cross / s.Weight - change * slope,
                        Math.Max(0, s.SlopeSquare / s.Weight - slope * slope),
                        0,
                        pace
                    ),
                    s.Weight
                )
            );
        }
    }
}
