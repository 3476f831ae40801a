using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>The layers in use for one measure, each with its source.</summary>
public sealed record NoiseInUse(
    double TraceSd,
    NoiseSource TraceFrom,
    double VisitSd,
    NoiseSource VisitFrom,
    double PersonSd,
    NoiseSource PersonFrom
)
{
    public NoiseLayers Layers => new(VisitSd, PersonSd);
}
