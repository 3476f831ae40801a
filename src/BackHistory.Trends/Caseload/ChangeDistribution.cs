namespace BackHistory.Trends.Caseload;

public static class ChangeDistribution
{
    static readonly (string Name, double Under)[] Ages =
    [
        ("under 4", 4),
        ("4 to 6", 7),
        ("7 to 11", 12),
        ("12 to 17", 18),
        ("18 and over", double.PositiveInfinity),
    ];
    static readonly string[] Seasons = ["winter", "spring", "summer", "autumn"];

    public static IReadOnlyList<ChangeGroup> ByAge(IReadOnlyList<ObservedChange> changes) =>
        Groups(changes, Ages.Select(a => a.Name), c => Array.FindIndex(Ages, a => c.AgeYears < a.Under));

    /// <summary>Meteorological seasons of the northern half: winter is December to February.</summary>
    public static IReadOnlyList<ChangeGroup> BySeason(IReadOnlyList<ObservedChange> changes, bool southern = false) =>
        Groups(changes, Seasons, c => (c.Middle.Month % 12 / 3 + (southern ? 2 : 0)) % 4);

    static List<ChangeGroup> Groups(IReadOnlyList<ObservedChange> changes, IEnumerable<string> names, Func<ObservedChange, int> group)
    {
        var found = new List<ChangeGroup>();
        var index = 0;
        foreach (var name in names)
        {
            var rates = changes.Where(c => group(c) == index).Select(c => c.PerQuarter).Order().ToArray();
            if (rates.Length > 0)
                found.Add(new(name, rates.Length, Quantile(rates, 0.1), Quantile(rates, 0.5), Quantile(rates, 0.9)));
            index++;
        }
        return found;
    }

    /// <summary>Linear between order statistics (type 7 of Hyndman and Fan 1996, Am. Stat. 50:361).</summary>
    static double Quantile(double[] sorted, double share)
    {
        var at = share * (sorted.Length - 1);
        var below = (int)at;
        return below + 1 < sorted.Length ? sorted[below] + (at - below) * (sorted[below + 1] - sorted[below]) : sorted[below];
    }
}
