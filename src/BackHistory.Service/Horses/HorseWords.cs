using System.Globalization;

namespace BackHistory.Service.Horses;

/// <summary>How pages speak of what a horse is.</summary>
internal static class HorseWords
{
    /// <summary>A year alone, or an age, is kept as its first of January: nobody said that day.</summary>
    public static string? Born(DateOnly? foaled) =>
        foaled switch
        {
            null => null,
            { Month: 1, Day: 1 } year => $"born {year.Year.ToString(CultureInfo.InvariantCulture)}",
            { } day => $"born {Formatter.Metric.Day(day)}",
        };
}
