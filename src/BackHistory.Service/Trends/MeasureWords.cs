using System.Globalization;
using BackHistory.Reports;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Trends;

/// <summary>Measures in words and units as printed, for pages and charts.</summary>
public static class MeasureWords
{
    /// <summary>With depths in millimetres.</summary>
    public static string Of(string key) => Of(key, LengthUnit.Millimetres);

    public static string Of(string key, LengthUnit lengths, ReportLanguage language = ReportLanguage.English)
    {
        var (name, at) = key.Split('@', 2) is [var a, var b] ? (a, Depth(b, lengths, language)) : (key, "");
        return language == ReportLanguage.German ? GermanMeasures.Of(name, at) : English(name, at);
    }

    /// <summary>The depth that a measure's key names; empty where it names none.</summary>
    public static string DepthOf(string key, LengthUnit lengths) =>
        key.Split('@', 2) is [_, var at] ? Depth(at, lengths, ReportLanguage.English) : "";

    /// <summary>What is no number (the place of a muscle score, the ends of a slope) stays as it is.</summary>
    private static string Depth(string at, LengthUnit lengths, ReportLanguage language)
    {
        if (!double.TryParse(at, NumberStyles.None, CultureInfo.InvariantCulture, out var mm))
            return at;
        return lengths == LengthUnit.Inches ? language.Number(mm / Inch.Millimetres, 1) + "″" : at + " mm";
    }

    private static string English(string name, string at) =>
        name switch
        {
            "width" => $"Width {at} down",
            "width-ratio" => "Width ratio, 30 to 150 mm down",
            "slope" => "Slope of the sides",
            "slope-left" => "Slope, left side",
            "slope-right" => "Slope, right side",
            "opening" => "Opening angle",
            "half-area" => at.Length > 0 ? $"Area of the halves to {at}" : "Area of the halves",
            "half-area-left" => at.Length > 0 ? $"Area of the left half to {at}" : "Area of the left half",
            "half-area-right" => at.Length > 0 ? $"Area of the right half to {at}" : "Area of the right half",
            "fill" => "Fill of the sides",
            "fill-left" => "Fill, left side",
            "fill-right" => "Fill, right side",
            "skew-area" => $"Right over left, area to {at}",
            "skew-slope" => "Right minus left, slope",
            "skew-shape" => "Difference of the sides",
            "ridge-radius" => "Radius of the ridge",
            "topline-drop" => "Topline drop",
            "topline-drop-place" => "Place of the topline's drop",
            "topline-slope" => $"Topline slope, {at}",
            "panel-radius" => "Radius along the panel",
            "bearing-length" => "Bearing length",
            "half-volume" => "Volume of the halves",
            "half-volume-left" => "Volume of the left half",
            "half-volume-right" => "Volume of the right half",
            "read-slope" => "Slope read by hand",
            "read-slope-left" => "Slope read by hand, left side",
            "read-slope-right" => "Slope read by hand, right side",
            "read-topline-slope" => "Topline slope read by hand",
            "weight" => "Weight",
            "condition" => "Condition score",
            "muscle" => $"Muscle score, {at}",
            "mark-lateral" => $"Mark outwards, {at}",
            "mark-depth" => $"Mark down, {at}",
            _ => at.Length > 0 ? $"{name}@{at}" : name,
        };

    public static string Station(string? station) =>
        station switch
        {
            null => "",
            "shoulder" => "shoulder",
            "behind-shoulder" => "behind the shoulder",
            "mid-back" => "mid-back",
            "last-rib" => "last rib",
            _ => station,
        };

    public static string Station(string? station, ReportLanguage language) =>
        language == ReportLanguage.German ? GermanMeasures.Station(station) : Station(station);

    public static string Subject(string key, string? station) => station is null ? Of(key) : $"{Of(key)}, {Station(station)}";

    public static string Unit(string unit) =>
        unit switch
        {
            "deg" => "°",
            "cm2" => "cm²",
            "l" => "l",
            "1" => "",
            _ => unit,
        };

    public static int Decimals(string unit) =>
        unit switch
        {
            "deg" or "cm2" or "%" => 1,
            "mm" => 0,
            "kg" => 0,
            "1" => 2,
            _ => 1,
        };
}
