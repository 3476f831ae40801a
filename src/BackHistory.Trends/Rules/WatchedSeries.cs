using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>One watched measure of one horse with everything known of its noise.</summary>
/// <param name="Measure">Key of the measure (method.md section 3), as in <c>width@100</c>.</param>
/// <param name="Station">Key of the station, null for measures of the whole horse.</param>
/// <param name="Unit"><c>mm</c>, <c>deg</c>, <c>cm2</c>, <c>l</c>, <c>kg</c>, <c>%</c> or <c>1</c>.</param>
/// <param name="Prior">What the practice's horses have taught of its drift; null = rule of thumb.</param>
public sealed record WatchedSeries(
    string Measure,
    string? Station,
    string Unit,
    IReadOnlyList<Observation> Observations,
    NoiseLayers Noise,
    Threshold Threshold,
    DriftPrior? Prior = null
)
{
    /// <summary>What changes of this horse's contour do to the measure; null where its contour is not known well enough.</summary>
    public ContourGains? Contour { get; init; }
}
