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

    /// <summary>The forms that the plan names.</summary>
    public static IReadOnlyList<string> Of(ImportPlan plan) =>
        plan.DateFormats is { Count: > 0 } several ? several
        : plan.DateFormat is { } one ? [one]
        : [];

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
