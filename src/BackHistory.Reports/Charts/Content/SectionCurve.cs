namespace BackHistory.Reports.Charts.Content;

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
