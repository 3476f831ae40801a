using BackHistory.Reports.Charts;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets;

/// <summary>What a <see cref="SettingSheet"/> shows.</summary>
public sealed record SettingSheetInput
{
    public required SheetHead Head { get; init; }

    public required string Saddle { get; init; }

    /// <summary>What comes before any proposal, at the sheet's top; empty where nothing does.</summary>
    public IReadOnlyList<string> First { get; init; } = [];

    /// <summary>The proposal in a sentence.</summary>
    public required string Proposal { get; init; }

    /// <summary>The gauge whose marks are used.</summary>
    public required string Gauge { get; init; }

    public required IReadOnlyList<SettingRow> Rows { get; init; }

    /// <summary>What the data cannot say; one sentence each.</summary>
    public IReadOnlyList<string> CannotBeSaid { get; init; } = [];

    /// <summary>Where the muscles meet, what was noted at the visit.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    public GaugeChartInput? Chart { get; init; }
}
