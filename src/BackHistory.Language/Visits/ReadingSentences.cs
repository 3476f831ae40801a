using System.Globalization;
using BackHistory.Shape.Quality;

namespace BackHistory.Language.Visits;

/// <summary>What is said of a reading to the person who still stands by the horse.</summary>
public static class ReadingSentences
{
    public static string InWords(this Disagreement d, ReportLanguage language = default) =>
        language["reading.disagrees", Said(d.Tracing, d.Unit, language), Said(d.Reading, d.Unit, language)];

    private static string Said(double value, string unit, ReportLanguage language)
    {
        var rounded = Math.Abs(value) < 10 ? Math.Round(value, 1) : Math.Round(value);
        var number = rounded.ToString(CultureInfo.InvariantCulture).Replace(".", language["number.decimal"], StringComparison.Ordinal);
        return unit switch
        {
            "deg" => number + "°",
            "1" => number,
            _ => $"{number} {unit}",
        };
    }
}
