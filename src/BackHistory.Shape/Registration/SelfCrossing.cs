namespace BackHistory.Shape.Registration;

/// <summary>A place where a traced line meets itself, and the length of line between the two passes.</summary>
internal readonly record struct Loop(Point At, double Arc);

/// <summary>
/// Finds loops of a polyline. Runs of neighbouring segments share a box, so that a line which never comes back is checked in
/// little more than linear time.
/// </summary>
internal static class SelfCrossing
{
    private const int RunLength = 8;

    /// <summary>
    /// The first loop whose line is longer than <paramref name="longestJitter"/> mm, or null. Touching counts as crossing.
    /// </summary>
    internal static Loop? Find(double[] x, double[] y, double longestJitter)
    {
        var segments = x.Length - 1;
        if (segments < 2)
            return null;
        var arc = new double[x.Length];
        for (var i = 1; i < x.Length; i++)
            arc[i] = arc[i - 1] + new Point(x[i] - x[i - 1], y[i] - y[i - 1]).Length;
        var boxes = new Box[(segments + RunLength - 1) / RunLength];
        for (var run = 0; run < boxes.Length; run++)
            boxes[run] = Box.Around(x, y, run * RunLength, Math.Min((run + 1) * RunLength, segments));
        for (var a = 0; a < boxes.Length; a++)
        for (var b = a; b < boxes.Length; b++)
            if (boxes[a].Touches(boxes[b]) && Between(a, b) is { } loop)
                return loop;
        return null;

        Loop? Between(int a, int b)
        {
            for (var i = a * RunLength; i < Math.Min((a + 1) * RunLength, segments); i++)
            for (var j = Math.Max(b * RunLength, i + 2); j < Math.Min((b + 1) * RunLength, segments); j++)
            {
                if (arc[j + 1] - arc[i] <= longestJitter || Apart(x, i, j) || Apart(y, i, j))
                    continue;
                if (Meet(i, j) is { } loop && loop.Arc > longestJitter)
                    return loop;
            }
            return null;
        }

        Loop? Meet(int i, int j)
        {
            Point p = new(x[i], y[i]),
                u = new Point(x[i + 1], y[i + 1]) - p,
                q = new(x[j], y[j]),
                v = new Point(x[j + 1], y[j + 1]) - q;
            var turn = u.Cross(v);
            if (turn == 0)
                return Overlap(i, j, p, u, q, v);
            var (s, t) = ((q - p).Cross(v) / turn, (q - p).Cross(u) / turn);
            if (s is < 0 or > 1 || t is < 0 or > 1)
                return null;
            return new Loop(p + s * u, arc[j] + t * (arc[j + 1] - arc[j]) - arc[i] - s * (arc[i + 1] - arc[i]));
        }

        Loop? Overlap(int i, int j, Point p, Point u, Point q, Point v)
        {
            if (u.Cross(q - p) != 0)
                return null;
            var square = u.Dot(u);
            var (from, to) = ((q - p).Dot(u) / square, (q + v - p).Dot(u) / square);
            if (Math.Max(from, to) < 0 || Math.Min(from, to) > 1)
                return null;
            var s = Math.Clamp(from, 0, 1);
            var t = from == to ? 0 : (s - from) / (to - from);
            return new Loop(p + s * u, arc[j] + t * (arc[j + 1] - arc[j]) - arc[i] - s * (arc[i + 1] - arc[i]));
        }
    }

    /// <summary>True when two segments do not overlap in one coordinate.</summary>
    private static bool Apart(double[] z, int i, int j) =>
        Math.Max(z[i], z[i + 1]) < Math.Min(z[j], z[j + 1]) || Math.Max(z[j], z[j + 1]) < Math.Min(z[i], z[i + 1]);

    private readonly record struct Box(double Left, double Right, double Bottom, double Top)
    {
        internal static Box Around(double[] x, double[] y, int first, int last)
        {
            double left = x[first],
                right = x[first],
                bottom = y[first],
                top = y[first];
            for (var i = first + 1; i <= last; i++)
            {
                (left, right) = (Math.Min(left, x[i]), Math.Max(right, x[i]));
                (bottom, top) = (Math.Min(bottom, y[i]), Math.Max(top, y[i]));
            }
            return new Box(left, right, bottom, top);
        }

        internal bool Touches(Box other) => Left <= other.Right && other.Left <= Right && Bottom <= other.Top && other.Bottom <= Top;
    }
}
