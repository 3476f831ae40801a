using System.Globalization;
using BackHistory.Shape.Measures;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Decisions;

/// <summary>Measures, places and numbers as the explanation of a decision says them inside its sentences.</summary>
internal sealed record DecisionNumbers(ReportLanguage Language, LengthUnit Lengths)
{
    internal string Number(string measure, string? station) => station is null ? Measure(measure) : $"{Measure(measure)} {At(station)}";

    internal string Measure(string key)
    {
        var family = MeasureDefinition.FamilyOf(key);
        if (key.Length > family.Length && Language.Find($"measure.{family}.within.at") is { } with)
            return string.Format(CultureInfo.InvariantCulture, with, Depth(key[(family.Length + 1)..]));
        return Language.Find($"measure.{family}.within") ?? Language["measure.other", key];
    }

    /// <summary>With its preposition; empty for the whole horse.</summary>
    internal string At(string? station) =>
        station is null ? "" : Language.Find("station.at." + station) ?? Language["station.at.other", station.Replace('-', ' ')];

    internal string Number(double value, string unit)
    {
        if (Lengths == LengthUnit.Inches && unit is ("mm" or "cm2"))
            return unit == "mm"
                ? Written(value / Inch.Millimetres, "0.00") + "″"
                : Written(value * 100 / (Inch.Millimetres * Inch.Millimetres), "0.00") + " in²";
        return Written(value, Math.Abs(value) >= 100 ? "0" : "0.0") + Unit(unit);
    }

    internal string Degrees(double value, double sd) => $"{Number(value, "deg")} (± {Number(sd, "deg")})";

    private string Written(double value, string form) =>
        value
            .ToString(form, CultureInfo.InvariantCulture)
            .Replace('-', '−')
            .Replace(".", Language["number.decimal"], StringComparison.Ordinal);

    private static string Unit(string unit) =>
        unit switch
        {
            "deg" => "°",
            "cm2" => " cm²",
            "1" => "",
            _ => $" {unit}",
        };

    private string Depth(string millimetres) =>
        Lengths == LengthUnit.Inches && double.TryParse(millimetres, NumberStyles.Float, CultureInfo.InvariantCulture, out var mm)
            ? Written(mm / Inch.Millimetres, "0.0") + "″"
            : $"{millimetres} mm";
}
