using BackHistory.Reports.Charts;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets;

/// <summary>What a <see cref="VetReport"/> shows.</summary>
public sealed record VetReportInput
{
    public required SheetHead Head { get; init; }

    /// <summary>The finding as a sentence.</summary>
    public required string Finding { get; init; }

    /// <summary>Age, breed, work: one line.</summary>
    public string Horse { get; init; } = "";

    public required ConditionChartInput Condition { get; init; }

    public required IReadOnlyList<ChangeRow> Changes { get; init; }

    /// <summary>Lay-offs, illness, saddle work and what was noted, in any order.</summary>
    public IReadOnlyList<DatedNote> History { get; init; } = [];

    /// <summary>How the numbers were taken: method, people, repeatability.</summary>
    public IReadOnlyList<string> Method { get; init; } = [];
}
