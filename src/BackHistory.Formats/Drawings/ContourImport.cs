using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

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
