using BackHistory.Shape;

namespace BackHistory.Service.Tracings;

/// <summary>A tracing measured without being recorded, as the desk asks after every change.</summary>
/// <param name="Concerns">What a person should look at, in words: the flags, and readings with which it disagrees.</param>
/// <param name="Contour">The registered curve every 2 mm, millimetres.</param>
public sealed record MeasuredTracing(
    Refusal? Refused,
    IReadOnlyList<MeasuredRow> Measures,
    IReadOnlyList<QualityFlag> Flags,
    IReadOnlyList<string> Concerns,
    IReadOnlyList<Point> Contour
)
{
    internal IReadOnlyList<Measure> AsMeasures() => [.. Measures.Select(m => new Measure(m.Key, m.Value, m.Unit, m.Sd, m.Why))];
}
