using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>
/// What a <see cref="BlandAltmanChart"/> shows. Bias and limits are given, not computed here (Bland &amp; Altman 1986, Lancet i:307–310:
/// mean difference, and mean difference ± 1.96 sd).
/// </summary>
public sealed record BlandAltmanInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>The measure, and what is compared.</summary>
    public required string Subject { get; init; }

    public required string Unit { get; init; }

    public int Decimals { get; init; } = 1;

    public required IReadOnlyList<PairedReading> Pairs { get; init; }

    /// <summary>Mean of first − second.</summary>
    public required double Bias { get; init; }

    public required double LowerLimit { get; init; }

    public required double UpperLimit { get; init; }

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Pairs.Count == 0)
            throw new NotDrawableException("A Bland–Altman chart needs at least one pair.");
        foreach (var (value, i) in Pairs.SelectMany((p, i) => new[] { (p.First, i), (p.Second, i) }))
            NotDrawableException.ThrowUnlessFinite(value, $"A reading of pair {i + 1}");
        foreach (var value in new[] { Bias, LowerLimit, UpperLimit })
            NotDrawableException.ThrowUnlessFinite(value, "The bias or a limit");
    }
}
