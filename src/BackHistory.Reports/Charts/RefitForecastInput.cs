using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="RefitForecastChart"/> shows.</summary>
public sealed record RefitForecastInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The practice and the number of horses.</summary>
    public required string Subject { get; init; }

    public required IReadOnlyList<RefitMonth> Months { get; init; }

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Months.Count == 0)
            throw new NotDrawableException("A forecast of refits needs at least one month.");
        foreach (var month in Months)
        {
            foreach (var value in new[] { month.Refits, month.Low, month.High })
                NotDrawableException.ThrowUnlessSd(value, $"A number of refits in {month.Month:yyyy-MM}");
        }
    }
}
