using BackHistory.Shape;

namespace BackHistory.Service.Tracings;

/// <summary>A tracing measured without being recorded, as the desk asks after every change.</summary>
/// <param name="Contour">The registered curve every 2 mm, millimetres.</param>
public sealed record MeasuredTracing(
    Refusal? Refused,
    IReadOnlyList<MeasuredRow> Measures,
    IReadOnlyList<QualityFlag> Flags,
    IReadOnlyList<Point> Contour
);
