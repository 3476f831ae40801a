namespace BackHistory.Shape.Tests.Reference;

/// <summary>
/// Measures of a cross-section given as a dense polyline in the frame of the horse, from their definitions by sums over segments. Shares
/// no code with the measures of the product; what the line does not reach is left out.
/// </summary>
internal static class PolylineMeasures
{
    private const double Step = 1;
    private static readonly double[] Depths = [30, 60, 100, 150];

    internal static Dictionary<string, double> Of(IReadOnlyList<Point> line)
    {
        var measures = new Dictionary<string, double>(StringComparer.Ordinal);
        if (Cut(line) is not var (left, right))
            return measures;
        foreach (var depth in Depths)
            if (Reach(left, depth) is { } l && Reach(right, depth) is { } r)
                measures[$"width@{depth}"] = l.At.X + r.At.X;
        foreach (var (side, arm) in ((string, Point[])[])[("left", left), ("right", right)])
        {
            foreach (var depth in Depths.Where(d => d >= 100))
                if (Reach(arm, depth) is { } end)
                    measures[$"half-area-{side}@{depth}"] = Area([.. arm[..end.After], end.At, new(0, -depth)]) / 100;
            if (Every(arm, 40, 140) is { } flank)
                measures[$"slope-{side}"] = Slope(flank);
            if (Every(arm, 0, 150) is { } whole)
                measures[$"fill-{side}"] = Area(whole) / 100;
        }
        if (Every(left, 0, 150) is { } onLeft && Every(right, 0, 150) is { } onRight)
            measures["skew-shape"] = Skew(onLeft, onRight);
        return measures;
    }

    /// <summary>Both sides from M outwards, the left one mirrored, so that x and depth grow outwards on each.</summary>
    private static (Point[] Left, Point[] Right)? Cut(IReadOnlyList<Point> line)
    {
        int? at = null;
        Point m = default;
        for (var i = 0; i + 1 < line.Count; i++)
        {
            var (a, b) = (line[i], line[i + 1]);
            if (a.X > 0 == b.X > 0)
                continue;
            var crossing = a + -a.X / (b.X - a.X) * (b - a);
            if (at is null || Math.Abs(crossing.Y) < Math.Abs(m.Y))
                (at, m) = (i, crossing);
        }
        if (at is not { } middle)
            return null;
        Point[] right = [default, .. line.Skip(middle + 1).Select(p => p - m)];
        Point[] left = [default, .. line.Take(middle + 1).Reverse().Select(p => new Point(-p.X, p.Y - m.Y))];
        return (left, right);
    }

    /// <summary>The outermost crossing of a depth, and the first point beyond it.</summary>
    private static (Point At, int After)? Reach(Point[] arm, double depth)
    {
        (Point At, int After)? outermost = null;
        for (var i = 0; i + 1 < arm.Length; i++)
        {
            var (a, b) = (arm[i], arm[i + 1]);
            if (a.Y > -depth == b.Y > -depth)
                continue;
            var at = a + (-depth - a.Y) / (b.Y - a.Y) * (b - a);
            if (outermost is null || at.X > outermost.Value.At.X)
                outermost = (at, i + 1);
        }
        return outermost;
    }

    /// <summary>Points every millimetre of arc between two arcs from M; nothing when the arm is shorter.</summary>
    private static Point[]? Every(Point[] arm, double from, double to)
    {
        var points = new List<Point>();
        double passed = 0;
        for (var i = 0; i + 1 < arm.Length; i++)
        {
            var length = (arm[i + 1] - arm[i]).Length;
            if (length == 0)
                continue;
            for (var next = from + points.Count * Step; next <= to && next <= passed + length; next = from + points.Count * Step)
                points.Add(arm[i] + (next - passed) / length * (arm[i + 1] - arm[i]));
            passed += length;
        }
        return points.Count == 1 + (int)((to - from) / Step) ? [.. points] : null;
    }

    /// <summary>Weight of point k of n in a mean over the arc (trapezia).</summary>
    private static double Weight(int k, int n) => (k == 0 || k == n - 1 ? 0.5 : 1) / (n - 1);

    /// <summary>Inclination below horizontal, degrees, of the line of least mean squared orthogonal distance.</summary>
    private static double Slope(Point[] points)
    {
        var centre = points.Select((p, k) => Weight(k, points.Length) * p).Aggregate((a, b) => a + b);
        double xx = 0,
            xy = 0,
            yy = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var (w, off) = (Weight(k, points.Length), points[k] - centre);
            (xx, xy, yy) = (xx + w * off.X * off.X, xy + w * off.X * off.Y, yy + w * off.Y * off.Y);
        }
        var turn = Math.Atan2(2 * xy, xx - yy) / 2;
        var (along, chord) = (new Point(Math.Cos(turn), Math.Sin(turn)), points[^1] - points[0]);
        if (along.Dot(chord) < 0)
            along = -1 * along;
        return Math.Atan2(-along.Y, along.X) * 180 / Math.PI;
    }

    /// <summary>Root mean square distance of points at equal arcs.</summary>
    private static double Skew(Point[] left, Point[] right)
    {
        var squares = left.Zip(right, (l, r) => (r - l).Dot(r - l));
        return Math.Sqrt(squares.Select((square, k) => Weight(k, left.Length) * square).Sum());
    }

    /// <summary>Signed area of a closed polygon, mm², positive when it runs outwards above and back below.</summary>
    private static double Area(Point[] polygon)
    {
        double twice = 0;
        for (var i = 0; i < polygon.Length; i++)
            twice -= polygon[i].Cross(polygon[(i + 1) % polygon.Length]);
        return twice / 2;
    }
}
