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

/// <summary>Compares what was read by hand with what the tracing says.</summary>
public static class ReadingCheck
{
    /// <summary>Null when they agree within twice their joint standard deviation.</summary>
    /// <param name="measure">from the tracing; its <see cref="Measure.Sd"/> counts</param>
    /// <param name="reading">in the unit of the measure</param>
    /// <param name="readingSd">standard deviation of a reading by hand</param>
    /// <param name="tracingSd">what tracing again would scatter beyond the noise of the points (repeatability)</param>
    public static Disagreement? Compare(Measure measure, double reading, double readingSd, double tracingSd = 0)
    {
        if (measure.Value is not { } traced)
            return null;
        var sd = measure.Sd ?? 0;
        var joint = Math.Sqrt(readingSd * readingSd + tracingSd * tracingSd + sd * sd);
        var difference = reading - traced;
        return Math.Abs(difference) > 2 * joint ? new(measure.Key, measure.Unit, reading, traced, difference, joint) : null;
    }
}
