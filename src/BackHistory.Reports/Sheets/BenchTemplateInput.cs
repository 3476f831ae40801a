using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets;

/// <summary>What a <see cref="BenchTemplate"/> shows.</summary>
public sealed record BenchTemplateInput
{
    public required SheetHead Head { get; init; }

    public required string Station { get; init; }

    /// <summary>The registered cross-section, mm.</summary>
    public required SectionCurve Curve { get; init; }

    /// <summary>Depths below the midline point to mark, mm.</summary>
    public IReadOnlyList<double> DepthMarks { get; init; } = [30, 60, 100, 150];
}
