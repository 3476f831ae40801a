using System.Globalization;

namespace BackHistory.Trends;

/// <summary>Plain English for measures, stations, numbers and dates.</summary>
static class Wording
{
    internal static string Station(string? key) => key switch
    {
        null => "",
        "shoulder" => "at the shoulder",
        "behind-shoulder" => "behind the shoulder",
        "mid-back" => "at mid-back",
        "last-rib" => "at the last rib",
        _ => $"at {key.Replace('-', ' ')}",
    };

    internal static string Measure(string key)
    {
        var cut = key.IndexOf('@', StringComparison.Ordinal);
        var (family, depth) = cut < 0 ? (key, "") : (key[..cut], $" {key[(cut + 1)..]} mm down");
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

    internal static string Of(string measure, string? station) => station is null ? Measure(measure) : $"{Measure(measure)} {Station(station)}";

    internal static string Unit(string unit) => unit switch { "deg" => "°", "cm2" => " cm²", "1" => "", "%" => " %", _ => $" {unit}" };

    internal static string Number(double value, string unit)
    {
        var size = Math.Abs(value);
        var text = value.ToString(size >= 100 ? "0" : "0.0", CultureInfo.InvariantCulture);
        return $"{text.Replace('-', '−')}{Unit(unit)}";
    }

    internal static string Date(DateOnly date) => date.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A probability as a person says it; never 0 or 100.</summary>
    internal static string Chance(double p) => p switch
    {
        >= 0.99 => "over 99 in 100",
        < 0.01 => "under 1 in 100",
        _ => $"{Math.Round(p * 100).ToString(CultureInfo.InvariantCulture)} in 100",
    };

    internal static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
