using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Sheets;

/// <summary>
/// Where the four corner marks of a <see cref="TracingSheet"/> lie, so that they can be found in a photograph. Millimetres from the
/// paper's upper left corner, y down; each mark's middle.
/// </summary>
public sealed record TracingSheetGeometry(
    double Width,
    double Height,
    PlanePoint UpperLeft,
    PlanePoint UpperRight,
    PlanePoint LowerRight,
    PlanePoint LowerLeft,
    PlanePoint Midline
)
{
    /// <summary>Outer edge of the black square of each mark, mm.</summary>
    public const double MarkSize = 16;

    /// <summary>Edge of the white square in it.</summary>
    public const double WhiteSize = 10;

    /// <summary>Edge of the black square in that; the upper left mark has none: it shows which way is up.</summary>
    public const double CoreSize = 4;

    /// <summary>Pitch of the pale grid.</summary>
    public const double GridPitch = 10;

    public static TracingSheetGeometry Of(TracingPaper paper)
    {
        var (width, height) = paper switch
        {
            TracingPaper.A4 => (297.0, 210.0),
            TracingPaper.A3 => (420.0, 297.0),
            _ => (594.0, 420.0),
        };
        // A printer leaves at most 6 mm blank; the mark needs white around it to be found.
        const double In = 18;
        return new(width, height, new(In, In), new(width - In, In), new(width - In, height - In), new(In, height - In), new(width / 2, 46));
    }
}
