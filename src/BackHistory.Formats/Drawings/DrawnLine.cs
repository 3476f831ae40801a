using BackHistory.Shape;
using BackHistory.Shape.Contours;

namespace BackHistory.Formats.Drawings;

/// <summary>A line to be drawn at full size.</summary>
/// <param name="Name">layer or id: letters, digits, `-` and `_`; other characters become `-`</param>
/// <param name="Points">millimetres, y up</param>
public sealed record DrawnLine(string Name, IReadOnlyList<Point> Points)
{
    /// <summary>A contour as chords of at most a quarter of a millimetre.</summary>
    public static DrawnLine Sample(string name, Contour contour) => new(name, contour.Sample(0.25));
}
