using System.Collections.Immutable;
using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

public enum ContourFormat
{
    Svg,
    Dxf,
    Csv,
}

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

/// <summary>The lines of a file, the longest first.</summary>
/// <param name="UnitStated">false when the file has no unit of its own and the caller's, or millimetres, was taken</param>
public sealed record ImportedContours(ImmutableArray<ImportedLine> Lines, bool UnitStated);

/// <summary>Exactly one of the two is there.</summary>
public readonly record struct ContourRead(ImportedContours? Contours, Refusal? Refused);

/// <summary>
/// Contours from drawings: SVG (paths, polylines, lines), DXF (LINE, ARC, LWPOLYLINE, POLYLINE, SPLINE) and CSV. Curves are flattened to a
/// fiftieth of a millimetre. Refusals: `too-large`, `unreadable`, `unknown-unit`, `not-finite`, `no-line`.
/// </summary>
public static class ContourImport
{
    internal const double FlatnessMillimetres = 0.02;

    /// <param name="assumedUnit">`mm`, `cm` or `in` for a file that states none</param>
    public static ContourRead Read(
        ContourFormat format,
        ReadOnlyMemory<byte> file,
        string assumedUnit = "mm",
        ImportLimits? limits = null,
        CancellationToken cancel = default
    )
    {
        try
        {
            var bounds = limits ?? ImportLimits.Default;
            if (file.Length > bounds.Bytes)
                throw ImportException.TooLarge($"The file has {file.Length} bytes; at most {bounds.Bytes} are read.");
            var assumed =
                Units.MillimetresPer(assumedUnit)
                ?? throw new ImportException(Refusal.UnknownUnit, $"The unit '{assumedUnit}' is not known: use mm, cm or in.");
            var drawing = new Drawing(bounds, cancel);
            var stated = format switch
            {
                ContourFormat.Svg => SvgReader.Read(file, assumed, drawing),
                ContourFormat.Dxf => DxfReader.Read(file, assumed, drawing),
                _ => ContourTable.Read(file, drawing),
            };
            return new(new ImportedContours(drawing.Finish(), stated), null);
        }
        catch (ImportException refused)
        {
            return new(null, refused.Refusal);
        }
    }
}
