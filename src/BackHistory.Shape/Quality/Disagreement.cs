using System.Globalization;

namespace BackHistory.Shape.Quality;

/// <summary>A reading by hand and a tracing that cannot both be right.</summary>
/// <param name="Difference">reading less tracing, in the unit of both</param>
/// <param name="JointSd">√(sd² of the reading + sd² of the tracing)</param>
public sealed record Disagreement(string Key, string Unit, double Reading, double Tracing, double Difference, double JointSd)
{
    /// <summary>One sentence for the person who still stands by the horse.</summary>
    public string Sentence =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The tracing says {Round(Tracing)}{Suffix}, the reading {Round(Reading)}{Suffix}: level the sheet again or read again."
        );

    private string Suffix =>
        Unit switch
        {
            "deg" => "°",
            "1" => "",
            _ => " " + Unit,
        };

    private static double Round(double value) => Math.Abs(value) < 10 ? Math.Round(value, 1) : Math.Round(value);
}
