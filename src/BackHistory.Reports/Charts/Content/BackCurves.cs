namespace BackHistory.Reports.Charts.Content;

/// <summary>A point of a curve in its plane, in mm; the first coordinate to the right or towards the tail, the second up.</summary>
public readonly record struct PlanePoint(double X, double Y);

/// <summary>A piece of a contour that was not traced: the chart leaves it open and says so. Ends in mm.</summary>
public sealed record CurveGap(PlanePoint From, PlanePoint To);

/// <summary>
/// A registered cross-section, seen from behind: x to the horse's right, y up, the midline point at the origin; points in mm from the
/// horse's left to its right.
/// </summary>
/// <param name="Label">When it was taken, as the key shall say it.</param>
public sealed record SectionCurve(string Label, IReadOnlyList<PlanePoint> Points)
{
    public IReadOnlyList<CurveGap> Gaps { get; init; } = [];

    internal void Check()
    {
        if (Points.Count < 2)
            throw new NotDrawableException($"The curve of {Label} has {Points.Count} points; two are the least that can be drawn.");
        foreach (var point in Points)
        {
            NotDrawableException.ThrowUnlessFinite(point.X, $"A point of the curve of {Label}");
            NotDrawableException.ThrowUnlessFinite(point.Y, $"A point of the curve of {Label}");
        }
    }
}

/// <summary>A registered topline: u towards the tail, v up, in mm; points from head to tail.</summary>
/// <param name="Label">When it was taken, as the key shall say it.</param>
/// <param name="Stations">The marked stations, by the name to print.</param>
public sealed record ToplineCurve(string Label, IReadOnlyList<PlanePoint> Points, IReadOnlyList<StationMark> Stations)
{
    internal void Check() => new SectionCurve(Label, Points).Check();
}

/// <param name="At">On the topline, mm.</param>
public sealed record StationMark(string Name, PlanePoint At);
