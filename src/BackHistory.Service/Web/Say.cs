using System.Globalization;
using BackHistory.Reports;
using BackHistory.Service.Trends;

namespace BackHistory.Service.Web;

/// <summary>Numbers and days as every page shows them.</summary>
public static class Say
{
    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    public static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    public static string Number(double value, string unit) =>
        WithUnit(value.ToString("0." + new string('0', MeasureWords.Decimals(unit)), CultureInfo.InvariantCulture).Replace('-', '−'), unit);

    /// <summary>A signed change with its standard deviation.</summary>
    public static string Change(double change, double sd, string unit)
    {
        var decimals = new string('0', MeasureWords.Decimals(unit));
        return WithUnit(change.ToString($"+0.{decimals};−0.{decimals}", CultureInfo.InvariantCulture) + " ± " + sd.ToString($"0.{decimals}", CultureInfo.InvariantCulture), unit);
    }

    public static string Number(double value, string unit, ReportLanguage language) =>
        Words.WithUnit(language.Number(value, MeasureWords.Decimals(unit)), MeasureWords.Unit(unit));

    /// <summary>A number with its standard deviation.</summary>
    public static string Level(double value, double sd, string unit, ReportLanguage language)
    {
        var decimals = MeasureWords.Decimals(unit);
        return Words.WithUnit($"{language.Number(value, decimals)} ± {language.Number(sd, decimals)}", MeasureWords.Unit(unit));
    }

    public static string Change(double change, double sd, string unit, ReportLanguage language)
    {
        var decimals = MeasureWords.Decimals(unit);
        return Words.WithUnit($"{language.Change(change, decimals)} ± {language.Number(sd, decimals)}", MeasureWords.Unit(unit));
    }

    /// <summary>A probability as a person says it. Never 0 or 100: nothing measured is certain.</summary>
    public static string Chance(double p, ReportLanguage language = ReportLanguage.English) => p switch
    {
        >= 0.99 => language.Pick("over 99 in 100", "über 99 zu 100"),
        < 0.01 => language.Pick("under 1 in 100", "unter 1 zu 100"),
        _ => FormattableString.Invariant($"{Math.Round(p * 100)} {language.Pick("in", "zu")} 100"),
    };

    /// <summary>How long ago, as people count.</summary>
    public static string Ago(DateOnly day, DateOnly today)
    {
        var days = today.DayNumber - day.DayNumber;
        return days switch
        {
            0 => "today",
            1 => "yesterday",
            < 0 => $"in {-days} days",
            < 60 => $"{days} days ago",
            _ => $"{days / 30.44:0} months ago",
        };
    }

    private static string WithUnit(string number, string unit)
    {
        var printed = MeasureWords.Unit(unit);
        return printed.Length == 0 ? number : printed is "°" or "%" ? number + printed : $"{number} {printed}";
    }
}
