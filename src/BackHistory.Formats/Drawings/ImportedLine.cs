using System.Collections.Immutable;
using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>One line of a drawing, in millimetres, y up, in drawn order.</summary>
/// <param name="Name">id or layer, empty when it has none</param>
public sealed record ImportedLine(string Name, ImmutableArray<Point> Points)
{
    /// <summary>Length along the line, mm.</summary>
    public double Length { get; } = Points.Zip(Points.Skip(1), (a, b) => (b - a).Length).Sum();

    /// <summary>The line as a tracing. Its axes are taken as level and its origin as the midline mark until someone says better.</summary>
    public Tracing ToTracing(TracingKind kind, string? station = null, double noise = 1.0) =>
        new()
        {
            Kind = kind,
            Station = station,
            Points = Points,
            Noise = noise,
        };
}
