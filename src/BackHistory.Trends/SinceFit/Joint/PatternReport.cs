namespace BackHistory.Trends;

/// <summary>The hypotheses told by pattern: paces merged, likeliest first.</summary>
static class PatternReport
{
    const int Most = 5;

    internal static IReadOnlyList<PatternEvidence> Of(JointEvidence joint, double day)
    {
        var found = new List<PatternEvidence>();
        foreach (var group in joint.Moving.GroupBy(h => h.Pattern))
        {
            double share = 0, mean = 0, square = 0;
            foreach (var h in group)
            {
                var size = h.Movement.After(JointEvidence.Ahead(h.Movement, day));
                share += h.Weight;
                mean += h.Weight * size.Value;
                square += h.Weight * (size.Value * size.Value + size.Sd * size.Sd);
            }
            if (share <= 0) continue;
            var pattern = joint.Patterns[group.Key];
            var sd = Math.Sqrt(Math.Max(0, square / share - mean / share * (mean / share)));
            found.Add(new(pattern.Name, pattern.Station, share, new(mean / share, sd), pattern.Series.Length));
        }
        return [.. found.OrderByDescending(e => e.Share).Take(Most)];
    }
}
