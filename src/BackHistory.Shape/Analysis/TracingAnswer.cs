using BackHistory.Shape.Contours;

namespace BackHistory.Shape.Analysis;

/// <summary>What a tracing says: a refusal and nothing else, or a contour with its measures and flags.</summary>
public sealed record TracingAnswer(Refusal? Refused, Contour? Contour, IReadOnlyList<Measure> Measures, IReadOnlyList<QualityFlag> Flags)
{
    internal static TracingAnswer Refuse(Refusal refusal) => new(refusal, null, [], []);
}
