using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.Reports;

namespace BackHistory.Service.Web;

/// <summary>Numbers and days as every page shows them.</summary>
public static class Say
{
    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    public static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A version as a request gives it back: <c>"12"</c> with its quotes, as HTTP writes an entity tag (RFC 9110,
    /// 8.8.3).</summary>
    public static string ETag(long version) => string.Create(CultureInfo.InvariantCulture, $"\"{version}\"");

    /// <summary>In the unit that it is kept in, for rules, gauges and the bench.</summary>
    public static string Number(double value, string unit) => Saying.Metric.Number(value, unit);

    /// <summary>A signed change with its standard deviation, in the unit that it is kept in.</summary>
    public static string Change(double change, double sd, string unit) => Saying.Metric.Change(change, sd, unit);

    /// <summary><c>158 cm</c>, <c>15.2 hands</c>: to the nearest centimetre or inch.</summary>
    public static string Height(double millimetres, HeightUnit unit) =>
        unit == HeightUnit.Hands
            ? $"{DisplayUnits.InHands(millimetres)} hands"
            : string.Create(CultureInfo.InvariantCulture, $"{millimetres / 10:0} cm");

    /// <summary>A probability as a person says it. Never 0 or 100: nothing measured is certain.</summary>
    public static string Chance(double p, ReportLanguage language = ReportLanguage.English) =>
        p switch
        {
            >= 0.99 => language["chance.over-99"],
            < 0.01 => language["chance.under-1"],
            _ => language["chance.in-100", Math.Round(p * 100)],
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
}
