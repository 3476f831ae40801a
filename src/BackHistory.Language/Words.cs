using System.Globalization;

namespace BackHistory.Language;

/// <summary>How a language writes dates and numbers, independent of the machine's culture.</summary>
public static class Words
{
    /// <summary><c>25 Nov 2026</c>, <c>25. Nov. 2026</c>.</summary>
    public static string Date(this ReportLanguage language, DateOnly date) =>
        language["date.day", date.Day, language.Month(date.Month), date.Year.ToString("0000", CultureInfo.InvariantCulture)];

    /// <summary>The day with the month in full: <c>25 November 2026</c>.</summary>
    public static string LongDate(this ReportLanguage language, DateOnly date) =>
        language["date.day", date.Day, language.LongMonth(date.Month), date.Year.ToString("0000", CultureInfo.InvariantCulture)];

    /// <summary><c>Wednesday, 25 Nov 2026</c>.</summary>
    public static string DateWithWeekday(this ReportLanguage language, DateOnly date) =>
        $"{CultureInfo.GetCultureInfo(language.Tag).DateTimeFormat.GetDayName(date.DayOfWeek)}, {language.Date(date)}";

    /// <summary><c>November 2026</c>.</summary>
    public static string MonthAndYear(this ReportLanguage language, DateOnly date) =>
        language["date.month", language.LongMonth(date.Month), date.Year.ToString("0000", CultureInfo.InvariantCulture)];

    /// <summary>Short, as under an axis.</summary>
    public static string Month(this ReportLanguage language, int month) => language[Numbered("month.short.", month)];

    public static string LongMonth(this ReportLanguage language, int month) => language[Numbered("month.long.", month)];

    /// <summary>Fixed decimals, a true minus sign, the language's decimal sign. A value that rounds to zero has no sign.</summary>
    public static string Number(this ReportLanguage language, double value, int decimals)
    {
        var text = Math.Abs(value).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var negative = value < 0 && text.AsSpan().ContainsAnyExcept('0', '.');
        return (negative ? "−" : "") + text.Replace(".", language["number.decimal"], StringComparison.Ordinal);
    }

    /// <summary>The same with a plus sign where the value is positive: for changes.</summary>
    public static string Change(this ReportLanguage language, double value, int decimals)
    {
        var text = language.Number(value, decimals);
        return value > 0 && text.AsSpan().ContainsAnyInRange('1', '9') ? "+" + text : text;
    }

    /// <summary>A number with its unit: the degree and inch signs close up, the others stand apart by a no-break space.</summary>
    public static string WithUnit(string number, string unit) =>
        unit switch
        {
            "" or "1" => number,
            "°" or "″" => number + unit,
            _ => $"{number}\u00a0{unit}",
        };

    /// <summary>A probability as a person says it. Never 0 or 100: nothing measured is certain.</summary>
    public static string Chance(this ReportLanguage language, double p) =>
        p switch
        {
            >= 0.99 => language["chance.over-99"],
            < 0.01 => language["chance.under-1"],
            _ => language["chance.in-100", Math.Round(p * 100)],
        };

    /// <summary>With a capital at its beginning.</summary>
    internal static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static string Numbered(string key, int number) => string.Create(CultureInfo.InvariantCulture, $"{key}{number}");
}
