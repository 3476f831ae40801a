using System.Globalization;

namespace BackHistory.Trends.SinceFit;

/// <summary>Plain English for measures, stations, numbers and dates.</summary>
static class Wording
{
    internal static string Station(string? key) =>
        key switch
        {
            null => "",
            "shoulder" => "at the shoulder",
            "behind-shoulder" => "behind the shoulder",
            "mid-back" => "at mid-back",
            "last-rib" => "at the last rib",
            _ => $"at {key.Replace('-', ' ')}",
        };

    internal static string Measure(string key, LengthUnit lengths = LengthUnit.Millimetres)
    {
        var cut = key.IndexOf('@', StringComparison.Ordinal);
        var (family, depth) = cut < 0 ? (key, "") : (key[..cut], $" {Depth(key[(cut + 1)..], lengths)} down");
        return family switch
        {
            "width" => $"the width{depth}",
            "slope-left" => "the slope of the left side",
            "slope-right" => "the slope of the right side",
            "read-slope-left" => "the slope read by hand on the left",
            "read-slope-right" => "the slope read by hand on the right",
            "opening" => "the angle between the two sides",
            "half-area-left" => "the area of the left half",
            "half-area-right" => "the area of the right half",
            "fill-left" => "the fill of the left side",
            "fill-right" => "the fill of the right side",
            "skew-slope" => "the difference of slope between the sides",
            "skew-shape" => "the difference of shape between the sides",
            "skew-area" => "the difference of area between the sides",
            "topline-drop" => "the drop of the topline",
            "weight" => "the weight",
            "condition" => "the condition score",
            _ => $"the measure {key}",
        };
    }

    internal static string Of(string measure, string? station, LengthUnit lengths = LengthUnit.Millimetres) =>
        station is null ? Measure(measure, lengths) : $"{Measure(measure, lengths)} {Station(station)}";

    internal static string Unit(string unit) =>
        unit switch
        {
            "deg" => "°",
            "cm2" => " cm²",
            "1" => "",
            "%" => " %",
            "in" => "″",
            "in2" => " in²",
            _ => $" {unit}",
        };

    internal static string Number(double value, string unit, LengthUnit lengths = LengthUnit.Millimetres)
    {
        if (lengths == LengthUnit.Inches && unit is ("mm" or "cm2"))
            return Inches(value, unit);
        var size = Math.Abs(value);
        var text = value.ToString(size >= 100 ? "0" : "0.0", CultureInfo.InvariantCulture);
        return $"{text.Replace('-', '−')}{Unit(unit)}";
    }

    static string Inches(double value, string unit)
    {
        var (shown, of) = unit == "mm" ? (value / Inch.Millimetres, "in") : (value * 100 / (Inch.Millimetres * Inch.Millimetres), "in2");
        return shown.ToString("0.00", CultureInfo.InvariantCulture).Replace('-', '−') + Unit(of);
    }

    static string Depth(string millimetres, LengthUnit lengths) =>
        lengths == LengthUnit.Inches && double.TryParse(millimetres, NumberStyles.Float, CultureInfo.InvariantCulture, out var mm)
            ? (mm / Inch.Millimetres).ToString("0.0", CultureInfo.InvariantCulture) + "″"
            : $"{millimetres} mm";

    internal static string Date(DateOnly date) => date.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A probability as a person says it; never 0 or 100.</summary>
    internal static string Chance(double p) =>
        p switch
        {
            >= 0.99 => "over 99 in 100",
            < 0.01 => "under 1 in 100",
            _ => $"{Math.Round(p * 100).ToString(CultureInfo.InvariantCulture)} in 100",
        };

    internal static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
