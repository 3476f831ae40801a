using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="GaugeChart"/> shows.</summary>
public sealed record GaugeChartInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The gauge's name.</summary>
    public required string Subject { get; init; }

    public required string Unit { get; init; }

    /// <summary>In the gauge's own order, at least two.</summary>
    public required IReadOnlyList<GaugeMark> Marks { get; init; }

    /// <summary>The table's curve between the marks, as (position, value), e.g. of a monotone interpolation; empty = straight from mark
    /// to mark.</summary>
    public IReadOnlyList<PlanePoint> Curve { get; init; } = [];

    public IReadOnlyList<GaugeSetting> Proposal { get; init; } = [];

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Marks.Count < 2)
            throw new NotDrawableException("A gauge table needs at least two marks.");
        foreach (var mark in Marks)
            NotDrawableException.ThrowUnlessFinite(mark.Value, $"The value of mark {mark.Mark}");
        foreach (var value in Curve.SelectMany(p => new[] { p.X, p.Y }).Concat(Proposal.SelectMany(s => new[] { s.Value, s.Position })))
            NotDrawableException.ThrowUnlessFinite(value, "A point of the gauge's curve");
    }
}
