namespace BackHistory.Shape.Registration;

internal static class Polyline
{
    /// <summary>The point of the polyline nearest to <paramref name="to"/>.</summary>
    internal static Point Nearest(ReadOnlySpan<double> x, ReadOnlySpan<double> y, Point to)
    {
        var best = new Point(x[0], y[0]);
        var least = (best - to).Length;
        for (var i = 1; i < x.Length; i++)
        {
            var candidate = NearestOnSegment(new(x[i - 1], y[i - 1]), new(x[i], y[i]), to);
            var distance = (candidate - to).Length;
            if (distance < least)
                (least, best) = (distance, candidate);
        }
        return best;
    }

    private static Point NearestOnSegment(Point a, Point b, Point to)
    {
        var along = b - a;
        var square = along.Dot(along);
        return square == 0 ? a : a + Math.Clamp((to - a).Dot(along) / square, 0, 1) * along;
    }
}
