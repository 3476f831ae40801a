namespace BackHistory.Shape;

/// <summary>Total least squares line through samples at equal arc steps.</summary>
internal static class Line
{
    /// <summary>Unit direction from the first samples to the last along the first principal axis.</summary>
    internal static Point ThroughUniform(ReadOnlySpan<Point> points)
    {
        Point centre = default;
        for (var k = 0; k < points.Length; k++) centre += Simpson.Weight(k, points.Length) * points[k];
        double xx = 0, xy = 0, yy = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var (w, d) = (Simpson.Weight(k, points.Length), points[k] - centre);
            (xx, xy, yy) = (xx + w * d.X * d.X, xy + w * d.X * d.Y, yy + w * d.Y * d.Y);
        }
        var (sin, cos) = Math.SinCos(Math.Atan2(2 * xy, xx - yy) / 2);
        var along = new Point(cos, sin);
        return along.Dot(points[^1] - points[0]) < 0 ? -1 * along : along;
    }
}
