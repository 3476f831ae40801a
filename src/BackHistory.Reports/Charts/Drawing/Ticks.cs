namespace BackHistory.Reports.Charts.Drawing;

/// <summary>Round places for grid lines.</summary>
internal static class Ticks
{
    /// <summary>Multiples of 1, 2 or 5 times a power of ten within the range, about <paramref name="wanted"/> of them and at least two,
    /// and their decimals.</summary>
    public static (double[] Values, int Decimals) Values(double low, double high, int wanted)
    {
        for (var more = wanted; ; more++)
        {
            var step = RoundUp((high - low) / Math.Max(1, more));
            var (first, last) = ((long)Math.Ceiling(low / step - 1e-9), (long)Math.Floor(high / step + 1e-9));
            if (last - first >= 1 || more > wanted + 8)
                return (
                    [.. Enumerable.Range(0, (int)(last - first + 1)).Select(i => (first + i) * step)],
                    Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9))
                );
        }
    }

    static double RoundUp(double rough)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        return power
            * (rough / power) switch
            {
                <= 1 => 1,
                <= 2 => 2,
                <= 5 => 5,
                _ => 10,
            };
    }

    /// <summary>First days of months, in steps that divide a year (or of whole years), at most <paramref name="most"/> of them.</summary>
    public static IReadOnlyList<DateOnly> Months(DateOnly from, DateOnly to, int most)
    {
        foreach (var step in new[] { 1, 2, 3, 6, 12, 24, 60, 120, 240, 600 })
        {
            var days = Firsts(from, to, step).ToList();
            if (days.Count <= Math.Max(1, most))
                return days;
        }
        return [];
    }

    static IEnumerable<DateOnly> Firsts(DateOnly from, DateOnly to, int step)
    {
        var month = (from.Year * 12 + from.Month - 1 + step - 1) / step * step;
        for (; month / 12 is >= 1 and <= 9999; month += step)
        {
            var day = new DateOnly(month / 12, month % 12 + 1, 1);
            if (day > to)
                yield break;
            if (day >= from)
                yield return day;
        }
    }
}
