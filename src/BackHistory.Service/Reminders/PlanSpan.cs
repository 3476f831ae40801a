using System.Globalization;
using Microsoft.AspNetCore.WebUtilities;

namespace BackHistory.Service.Reminders;

/// <summary>Which days a plan is about: some weeks from a day on, or a month where an older address names one.</summary>
/// <param name="Month">The month as the address says it; null for weeks.</param>
public sealed record PlanSpan(DateOnly From, DateOnly To, string? Month, int Weeks)
{
    public static readonly int[] Lengths = [2, 4, 8, 12];

    private const int Usual = 4;

    /// <summary>What cannot be read counts as today and the usual four weeks.</summary>
    public static PlanSpan Read(string? month, string? from, int? weeks, DateOnly today)
    {
        if (!string.IsNullOrEmpty(month) && PlanApi.Month(month, today) is { } m)
        {
            var first = new DateOnly(m.Year, m.Month, 1);
            return new PlanSpan(first, first.AddMonths(1).AddDays(-1), month, Usual);
        }

        var length = weeks is { } w && Lengths.Contains(w) ? w : Usual;
        var begin =
            DateOnly.TryParseExact(from, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            && day > today
            && day.Year <= today.Year + History.Plausible.YearsAhead
                ? day
                : today;
        return new PlanSpan(begin, begin.AddDays(length * 7 - 1), null, length);
    }

    /// <summary>The same time in the address of a page.</summary>
    public string On(string page, params (string Name, string? Value)[] more)
    {
        var parts = new List<KeyValuePair<string, string?>>();
        if (Month is not null)
            parts.Add(new("month", Month));
        else
        {
            parts.Add(new("from", Iso(From)));
            parts.Add(new("weeks", Weeks.ToString(CultureInfo.InvariantCulture)));
        }

        parts.AddRange(more.Where(p => p.Value is not null).Select(p => new KeyValuePair<string, string?>(p.Name, p.Value)));
        return QueryHelpers.AddQueryString(page, parts);
    }

    public static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
