using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="SparklineChart"/> shows: the one measure that drives a horse's state.</summary>
public sealed record SparklineInput
{
    /// <summary>The measure in words, for the alt text.</summary>
    public required string Measure { get; init; }

    /// <summary>As printed; for the alt text.</summary>
    public required string Unit { get; init; }

    public int Decimals { get; init; } = 1;

    public required TrendSeries Series { get; init; }

    public required DateOnly Today { get; init; }

    public ReportLanguage Language { get; init; }
}
