using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>The hypotheses told by pattern: paces and beginnings merged, likeliest first.</summary>
static class PatternReport
{
    const int Most = 5;

    internal static IReadOnlyList<PatternEvidence> Evidence(JointEvidence joint, MovementPrior prior, double day)
    {
        var prediction = new Prediction(prior, day);
        var found = new List<PatternEvidence>();
        foreach (var group in joint.Moving.GroupBy(h => (joint.Patterns[h.Pattern].Name, joint.Patterns[h.Pattern].Station)))
        {
            double share = 0,
                mean = 0,
                square = 0;
            foreach (var h in group)
            {
                var (value, sd) = prediction.ValueFrom(h.Movement);
                share += h.Weight;
                mean += h.Weight * value;
                square += h.Weight * (value * value + sd * sd);
            }
            var pattern = joint.Patterns[group.First().Pattern];
            found.Add(
                new(
                    pattern.Name,
                    pattern.Station,
                    share,
                    new(mean / share, Math.Sqrt(Math.Max(0, square / share - mean / share * (mean / share)))),
                    pattern.Series.Length
                )
            );
        }
        return [.. found.OrderByDescending(e => e.Share).Take(Most)];
    }
}
