using BackHistory.Reports.Charts.Content;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="ChangeMapChart"/> shows.</summary>
public sealed record ChangeMapChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>Horse and dates.</summary>
    public required string Subject { get; init; }

    /// <summary>The later surface, no two neighbours further apart than <see cref="StepMm"/>.</summary>
    public required IReadOnlyList<ChangeSpot> Spots { get; init; }

    public required double StepMm { get; init; }

    /// <summary>Half the span of the colours, mm.</summary>
    public required double SpanMm { get; init; }

    /// <summary>Stations by name, mm from the datum.</summary>
    public IReadOnlyList<(string Name, double At)> Stations { get; init; } = [];

    public ReportLanguage Language { get; init; }

    /// <summary>In what places and sizes are said.</summary>
    public LengthUnit Lengths { get; init; }

    internal void Check()
    {
        if (Spots.Count == 0 || !(StepMm > 0) || !(SpanMm > 0))
            throw new NotDrawableException("A change map needs places, a step and a span.");
        foreach (var value in Spots.SelectMany(s => new[] { s.Along, s.Across, s.Change ?? 0 }))
            NotDrawableException.ThrowUnlessFinite(value, "A place of the change map");
    }
}
