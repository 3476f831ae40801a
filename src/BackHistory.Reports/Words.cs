using System.Globalization;

namespace BackHistory.Reports;

/// <summary>How a language writes dates and numbers, independent of the machine's culture.</summary>
public static class Words
{
    static readonly string[] EnglishMonths = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    static readonly string[] GermanMonths =
    [
        "Jan.",
        "Feb.",
        "März",
        "Apr.",
        "Mai",
        "Juni",
        "Juli",
        "Aug.",
        "Sept.",
        "Okt.",
        "Nov.",
        "Dez.",
    ];

    /// <summary><c>25 Nov 2026</c>, <c>25. Nov. 2026</c>.</summary>
    public static string Date(this ReportLanguage language, DateOnly date) =>
        string.Create(CultureInfo.InvariantCulture, $"{date.Day}{language.Pick("", ".")} {language.Month(date.Month)} {date.Year:0000}");

    public static string Month(this ReportLanguage language, int month) => language.Pick(EnglishMonths, GermanMonths)[month - 1];

    /// <summary>Fixed decimals, a true minus sign, the language's decimal sign. A value that rounds to zero has no sign.</summary>
    public static string Number(this ReportLanguage language, double value, int decimals)
    {
        var text = Math.Abs(value).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var negative = value < 0 && text.AsSpan().ContainsAnyExcept('0', '.');
        return (negative ? "−" : "") + (language == ReportLanguage.German ? text.Replace('.', ',') : text);
    }

    /// <summary>The same with a plus sign where the value is positive: for changes.</summary>
    public static string Change(this ReportLanguage language, double value, int decimals)
    {
        var text = language.Number(value, decimals);
        return value > 0 && text.AsSpan().ContainsAnyExcept('0', '.', ',') ? "+" + text : text;
    }

    /// <summary>A number with its unit: the degree and inch signs close up, the others stand apart by a no-break space.</summary>
    public static string WithUnit(string number, string unit) =>
        unit switch
        {
            "" or "1" => number,
            "°" or "″" => number + unit,
            _ => $"{number}\u00a0{unit}",
        };

    public static T Pick<T>(this ReportLanguage language, T english, T german) => language == ReportLanguage.German ? german : english;
}
