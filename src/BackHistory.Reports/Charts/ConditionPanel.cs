using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>One measure of a <see cref="ConditionChart"/>, as one series or as left and right.</summary>
public sealed record ConditionPanel
{
    /// <summary>The measure in words.</summary>
    public required string Name { get; init; }

    /// <summary>As printed.</summary>
    public required string Unit { get; init; }

    public int Decimals { get; init; }

    public required IReadOnlyList<TrendSeries> Series { get; init; }
}
