namespace BackHistory.Reports.Charts.Content;

/// <summary>What a <see cref="TrendChart"/> shows: one measure, as one series or as the left and the right side.</summary>
public sealed record TrendChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>Measure, station and horse, e.g. "Slope of the shoulder, behind-shoulder".</summary>
    public required string Subject { get; init; }

    /// <summary>As printed: <c>°</c>, <c>mm</c>, <c>cm²</c>, <c>%</c>, <c>kg</c>; empty for a plain number.</summary>
    public required string Unit { get; init; }

    /// <summary>Decimals of the numbers in labels and alt text.</summary>
    public int Decimals { get; init; } = 1;

    /// <summary>One series, or two: left and right.</summary>
    public required IReadOnlyList<TrendSeries> Series { get; init; }

    public IReadOnlyList<SaddleMark> SaddleWork { get; init; } = [];

    public IReadOnlyList<HorseSpan> Spans { get; init; } = [];

    /// <summary>Where what is known ends and the forecast begins.</summary>
    public required DateOnly Today { get; init; }

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Series.Count is 0 or > 2)
            throw new NotDrawableException($"A trend chart shows one or two series, not {Series.Count}.");
        foreach (var series in Series)
            series.Check();
    }
}
