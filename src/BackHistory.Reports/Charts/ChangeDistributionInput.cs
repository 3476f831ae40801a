using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="ChangeDistributionChart"/> shows.</summary>
public sealed record ChangeDistributionInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The measure, and what was counted.</summary>
    public required string Subject { get; init; }

    public required string Unit { get; init; }

    /// <summary>Side by side from left to right.</summary>
    public required IReadOnlyList<ChangeBars> Groups { get; init; }

    public ReportLanguage Language { get; init; }

    internal IEnumerable<ChangeBar> All => Groups.SelectMany(g => g.Bars);

    internal void Check()
    {
        if (!All.Any())
            throw new NotDrawableException("A distribution of change needs a group.");
        foreach (var bar in All)
        {
            foreach (var value in new[] { bar.Low, bar.Median, bar.High })
                NotDrawableException.ThrowUnlessFinite(value, $"The change of {bar.Name}");
        }
    }
}
