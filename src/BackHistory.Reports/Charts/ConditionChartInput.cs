using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="ConditionChart"/> shows.</summary>
public sealed record ConditionChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The horse.</summary>
    public required string Subject { get; init; }

    public required IReadOnlyList<ConditionPanel> Panels { get; init; }

    public IReadOnlyList<SaddleMark> SaddleWork { get; init; } = [];

    public IReadOnlyList<HorseSpan> Spans { get; init; } = [];

    /// <summary>Null when the sides have not parted, or nobody can tell.</summary>
    public Parting? Parting { get; init; }

    /// <summary>Where what is known ends; nothing after it is drawn.</summary>
    public required DateOnly Today { get; init; }

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Panels.Count == 0 || Panels.Any(p => p.Series.Count is 0 or > 2))
            throw new NotDrawableException("A condition chart needs a panel, and each panel one or two series.");
        foreach (var series in Panels.SelectMany(p => p.Series))
            series.Check();
    }
}
