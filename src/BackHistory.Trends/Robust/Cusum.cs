namespace BackHistory.Trends.Robust;

/// <summary>Tabular cumulative sums (NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3): the yardstick that the alarms bench is
/// held against.</summary>
public static class Cusum
{
    /// <param name="k">Reference value: half the shift to be found, in the values' unit.</param>
    /// <returns>S_hi and S_lo after each value; an alarm is where either exceeds the decision interval h.</returns>
    public static IReadOnlyList<(double High, double Low)> Sums(IReadOnlyList<double> values, double target, double k)
    {
        var sums = new List<(double, double)>(values.Count);
        double high = 0,
            low = 0;
        foreach (var value in values)
        {
            high = Math.Max(0, high + value - target - k);
            low = Math.Max(0, low + target - k - value);
            sums.Add((high, low));
        }
        return sums;
    }
}
