using System.Globalization;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>Days that are written as text, in the forms that were ticked.</summary>
internal static class ImportDates
{
    /// <summary>Three letters a month, as an English spreadsheet writes it.</summary>
    private static readonly CultureInfo English = CultureInfo.InvariantCulture;

    /// <summary>A day in the first half of a month, so that day and month can be taken for one another.</summary>
    private static readonly DateOnly Probe = new(2026, 4, 3);

    /// <summary>A day that can be taken for no other: no month has its number.</summary>
    private static readonly DateOnly Shown = new(2015, 12, 31);

    /// <summary>The forms that the plan names.</summary>
    public static IReadOnlyList<string> Of(ImportPlan plan) =>
        plan.DateFormats is { Count: > 0 } several ? several
        : plan.DateFormat is { } one ? [one]
        : [];

    /// <summary>A form as a person sees it: the last day of a year in it, and the order of its parts.</summary>
    public static string Says(string format) => $"{Shown.ToString(format, English)} ({Order(format)})";

    private static string Order(string format) =>
        format switch
        {
            "yyyy" => "the year alone",
            "d MMM yyyy" => "day, month in letters, year",
            _ when format.StartsWith('y') => "year, month, day",
            _ when format.StartsWith('M') => "month, day, year",
            _ => "day, month, year",
        };

    public static DateOnly? Read(string text, string format) =>
        DateOnly.TryParseExact(text, Patterns(format), English, DateTimeStyles.None, out var day) ? day : null;

    /// <returns>Two of the forms that read one text as two days; null where none do.</returns>
    public static (string One, string Other)? ReadTwoWays(IReadOnlyList<string> formats)
    {
        foreach (var one in formats)
        {
            foreach (var other in formats.Where(f => f != one))
            {
                if (Read(Probe.ToString(one, English), other) is { } day && day != Probe)
                    return (one, other);
            }
        }

        return null;
    }

    private static string[] Patterns(string format) =>
        format == "d MMM yyyy"
            ? [format, "d. MMM yyyy"]
            : [format, format.Replace("dd", "d", StringComparison.Ordinal).Replace("MM", "M", StringComparison.Ordinal)];
}
