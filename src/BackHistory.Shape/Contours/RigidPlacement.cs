namespace BackHistory.Shape.Contours;

/// <summary>
/// The rotation and shift that lay one set of points best on another, point by point, in least squares: never scaled, never mirrored,
/// because the size and the side of a back are what is looked for (Procrustes without either; Gower &amp; Dijksterhuis 2004, chapter 4).
/// </summary>
/// <param name="Degrees">turn of the moved points, counter-clockwise</param>
/// <param name="Shift">added after the turn</param>
/// <param name="Rms">root mean square distance that remains, in the unit of the points</param>
public readonly record struct RigidPlacement(double Degrees, Point Shift, double Rms)
{
    /// <summary>Places <paramref name="moved"/> on <paramref name="fixedPoints"/>; both as long, at least two points.</summary>
    public static RigidPlacement Fit(IReadOnlyList<Point> moved, IReadOnlyList<Point> fixedPoints)
    {
        if (moved.Count != fixedPoints.Count || moved.Count < 2)
            throw new ArgumentException("Two sets of as many points are needed.", nameof(moved));
        Point from = Mean(moved),
            to = Mean(fixedPoints);
        double along = 0,
            across = 0;
        for (var k = 0; k < moved.Count; k++)
        {
            Point a = moved[k] - from,
                b = fixedPoints[k] - to;
            (along, across) = (along + a.Dot(b), across + a.Cross(b));
        }
        var angle = Math.Atan2(across, along);
        var (sin, cos) = Math.SinCos(angle);
        Point Turned(Point p) => new(cos * p.X - sin * p.Y, sin * p.X + cos * p.Y);
        var shift = to - Turned(from);
        double squares = 0;
        for (var k = 0; k < moved.Count; k++)
        {
            var off = Turned(moved[k]) + shift - fixedPoints[k];
            squares += off.Dot(off);
        }
        return new RigidPlacement(angle * 180 / Math.PI, shift, Math.Sqrt(squares / moved.Count));
    }

    private static Point Mean(IReadOnlyList<Point> points)
    {
        Point sum = default;
        foreach (var p in points)
            sum += p;
        return 1.0 / points.Count * sum;
    }
}
