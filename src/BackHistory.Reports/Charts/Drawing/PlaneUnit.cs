using BackHistory.Trends.SinceFit;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>In what the places of a plane drawn in millimetres are said.</summary>
/// <param name="Millimetres">In one of the unit.</param>
/// <param name="Sign">After a number.</param>
/// <param name="Steps">Round distances between grid lines, in the unit, the smallest first.</param>
/// <param name="Decimals">Of sizes in words.</param>
internal sealed record PlaneUnit(double Millimetres, string Sign, IReadOnlyList<double> Steps, int Decimals)
{
    static readonly PlaneUnit Metric = new(1, "mm", [10, 20, 50, 100, 200, 500, 1000], 0);
    static readonly PlaneUnit Imperial = new(Inch.Millimetres, "″", [0.5, 1, 2, 5, 10, 20, 40], 1);

    public static PlaneUnit For(LengthUnit lengths) => lengths == LengthUnit.Inches ? Imperial : Metric;

    /// <summary>At the beginning of a sentence.</summary>
    public string Name(ReportLanguage language) => this == Metric ? language["plane-unit.millimetres"] : language["plane-unit.inches"];

    /// <summary>A size with its unit.</summary>
    public string Size(double millimetres, ReportLanguage language, int more = 0) =>
        Words.WithUnit(language.Number(millimetres / Millimetres, Decimals + more), Sign);
}
