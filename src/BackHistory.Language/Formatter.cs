using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language;

/// <summary>Measures, numbers and days as they are said to one reader: in the practice's units, in the reader's language.</summary>
public sealed record Formatter(LengthUnit Lengths, ReportLanguage Language = default)
{
    /// <summary>A standard deviation is never said to be nothing: as many decimals more, and no more.</summary>
    private const int MostDecimalsMore = 2;

    /// <summary>English, in the units that numbers are kept in: for rules, gauges and the bench.</summary>
    public static Formatter Metric { get; } = new(LengthUnit.Millimetres);

    /// <summary>The measure's name; its key where it has none.</summary>
    public string Measure(string key) => MeasureNames.NameOf(key, Lengths, Language);

    /// <summary>What the measure is, in a sentence; empty where there is none.</summary>
    public string Definition(string key) => MeasureNames.DefinitionOf(key, Lengths, Language);

    /// <summary>The station's name; its key where it has none, empty for the whole horse.</summary>
    public string Station(string? station) => station is null ? "" : Language.Find("station." + station) ?? station;

    public string Subject(string key, string? station) => station is null ? Measure(key) : $"{Measure(key)}, {Station(station)}";

    public string Number(double value, string unit)
    {
        var shown = Shown(unit);
        return Words.WithUnit(Language.Number(value * shown.Factor, shown.Decimals), shown.Unit);
    }

    /// <summary>A number with its standard deviation.</summary>
    public string Level(double value, double sd, string unit)
    {
        var shown = Shown(unit);
        var decimals = Decimals(sd * shown.Factor, shown.Decimals);
        return Words.WithUnit(
            $"{Language.Number(value * shown.Factor, decimals)} ± {Language.Number(sd * shown.Factor, decimals)}",
            shown.Unit
        );
    }

    /// <summary>A signed change with its standard deviation.</summary>
    public string Change(double change, double sd, string unit)
    {
        var shown = Shown(unit);
        var decimals = Decimals(sd * shown.Factor, shown.Decimals);
        return Words.WithUnit(
            $"{Language.Change(change * shown.Factor, decimals)} ± {Language.Number(sd * shown.Factor, decimals)}",
            shown.Unit
        );
    }

    /// <summary>A number under a heading that names its unit; with its standard deviation where it has one.</summary>
    public string Bare(double value, double? sd, string unit)
    {
        var shown = Shown(unit);
        if (sd is not > 0)
            return Language.Number(value * shown.Factor, shown.Decimals);
        var decimals = Decimals(sd.Value * shown.Factor, shown.Decimals);
        // In a narrow column it breaks before the sign, not behind it.
        return $"{Language.Number(value * shown.Factor, decimals)} ±\u00a0{Language.Number(sd.Value * shown.Factor, decimals)}";
    }

    public ShownUnit Shown(string unit) =>
        (Lengths, unit) switch
        {
            (LengthUnit.Inches, "mm") => new(1 / Inch.Millimetres, "″", 2),
            (LengthUnit.Inches, "cm2") => new(100 / (Inch.Millimetres * Inch.Millimetres), "in²", 2),
            _ => new(1, Unit(unit), DecimalsOf(unit)),
        };

    /// <summary>A stored unit as printed, however lengths are shown.</summary>
    public static string Unit(string unit) =>
        unit switch
        {
            "deg" => "°",
            "cm2" => "cm²",
            "1" => "",
            _ => unit,
        };

    public string Day(DateOnly day) => Language.Date(day);

    /// <summary>The day in the time zone that the moment carries.</summary>
    public string Day(DateTimeOffset at) => Language.Date(DateOnly.FromDateTime(at.DateTime));

    /// <summary><c>158 cm</c>, <c>15.2 hands</c>: to the nearest centimetre or inch.</summary>
    public string Height(double millimetres, HeightUnit unit) =>
        unit == HeightUnit.Hands
            ? Language["height.hands", DisplayUnits.InHands(millimetres)]
            : string.Create(CultureInfo.InvariantCulture, $"{millimetres / 10:0} cm");

    /// <summary>A probability as a person says it. Never 0 or 100: nothing measured is certain.</summary>
    public string Chance(double p) => Language.Chance(p);

    /// <summary>How long ago, as people count.</summary>
    public string Ago(DateOnly day, DateOnly today)
    {
        var days = today.DayNumber - day.DayNumber;
        return days switch
        {
            0 => Language["ago.today"],
            1 => Language["ago.yesterday"],
            < 0 => Language["ago.in-days", -days],
            < 60 => Language["ago.days", days],
            _ => Language["ago.months", (days / 30.44).ToString("0", CultureInfo.InvariantCulture)],
        };
    }

    private static int DecimalsOf(string unit) =>
        unit switch
        {
            "mm" or "kg" => 0,
            "1" => 2,
            _ => 1,
        };

    private static int Decimals(double sd, int least)
    {
        var decimals = least;
        while (sd > 0 && Math.Round(sd, decimals) == 0 && decimals < least + MostDecimalsMore)
            decimals++;
        return decimals;
    }
}
