using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets;

/// <summary>What a <see cref="ComparisonReport"/> shows. The charts' own titles state what each shows.</summary>
public sealed record ComparisonReportInput
{
    public required SheetHead Head { get; init; }

    /// <summary>The finding as a sentence.</summary>
    public required string Finding { get; init; }

    /// <summary>One a station.</summary>
    public IReadOnlyList<SectionChartInput> Sections { get; init; } = [];

    public ToplineChartInput? Topline { get; init; }

    public required IReadOnlyList<ChangeRow> Changes { get; init; }

    public IReadOnlyList<TrendChartInput> Trends { get; init; } = [];
}
