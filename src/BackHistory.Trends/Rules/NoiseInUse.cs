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

    /// <summary>1.96·√2·√(s_visit² + s_trace²): what two visits of one tracing each, by one pair of hands, can tell apart 95 times in 100;
    /// in the unit of the layers.</summary>
    public double MinimalDetectable => Normal.Z95 * Math.Sqrt(2 * (VisitSd * VisitSd + TraceSd * TraceSd));
}
