using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="ToplineChart"/> shows: the topline at one date or more.</summary>
public sealed record ToplineChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The horse.</summary>
    public required string Subject { get; init; }

    /// <summary>The earliest first; the last is now, and its stations are marked.</summary>
    public required IReadOnlyList<ToplineCurve> Curves { get; init; }

    public ReportLanguage Language { get; init; }

    /// <summary>In what places and sizes are said.</summary>
    public LengthUnit Lengths { get; init; }
}
