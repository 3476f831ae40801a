using BackHistory.Reports;
using BackHistory.Service.Trends;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Web;

/// <summary>Measures and numbers as they are said to one reader: in the practice's units, in the reader's language.</summary>
public sealed record Saying(LengthUnit Lengths, ReportLanguage Language = ReportLanguage.English)
{
    /// <summary>A standard deviation is never said to be nothing: as many decimals more, and no more.</summary>
    private const int MostDecimalsMore = 2;

    public static Saying Metric { get; } = new(LengthUnit.Millimetres);

    public string Of(string key) => MeasureWords.Of(key, Lengths, Language);

    public string Station(string? station) => MeasureWords.Station(station, Language);

    public string Subject(string key, string? station) => station is null ? Of(key) : $"{Of(key)}, {Station(station)}";

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
            _ => new(1, MeasureWords.Unit(unit), MeasureWords.Decimals(unit)),
        };

    private static int Decimals(double sd, int least)
    {
        var decimals = least;
        while (sd > 0 && Math.Round(sd, decimals) == 0 && decimals < least + MostDecimalsMore)
            decimals++;
        return decimals;
    }
}

/// <summary>How numbers of a stored unit are shown.</summary>
/// <param name="Factor">From the stored unit to the shown one.</param>
/// <param name="Unit">As printed.</param>
public readonly record struct ShownUnit(double Factor, string Unit, int Decimals);
