using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="SectionChart"/> shows: one station at one date or more.</summary>
public sealed record SectionChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>Horse and station.</summary>
    public required string Subject { get; init; }

    /// <summary>The earliest first; the last is now.</summary>
    public required IReadOnlyList<SectionCurve> Curves { get; init; }

    /// <summary>Lay the left half over the right one, to compare the sides.</summary>
    public bool MirrorLeftOnRight { get; init; }

    public ReportLanguage Language { get; init; }

    /// <summary>In what places and sizes are said.</summary>
    public LengthUnit Lengths { get; init; }
}
