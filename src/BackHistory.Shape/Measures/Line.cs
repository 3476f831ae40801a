namespace BackHistory.Shape.Measures;

/// <summary>Total least squares line through samples at equal arc steps.</summary>
/// <param name="Along">unit direction from the first samples to the last</param>
/// <param name="Centre">mean of the samples</param>
/// <param name="Excess">variance along the line less variance across it, mm²</param>
internal readonly record struct Line(Point Along, Point Centre, double Excess)
{
    internal static Line ThroughUniform(ReadOnlySpan<Point> points)
    {
        Point centre = default;
        for (var k = 0; k < points.Length; k++)
            centre += Simpson.Weight(k, points.Length) * points[k];
        double xx = 0,
            xy = 0,
            yy = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var (w, d) = (Simpson.Weight(k, points.Length), points[k] - centre);
            (xx, xy, yy) = (xx + w * d.X * d.X, xy + w * d.X * d.Y, yy + w * d.Y * d.Y);
        }
        var (sin, cos) = Math.SinCos(Math.Atan2(2 * xy, xx - yy) / 2);
        var along = new Point(cos, sin);
        if (along.Dot(points[^1] - points[0]) < 0)
            along = -1 * along;
        return new Line(along, centre, Math.Sqrt((xx - yy) * (xx - yy) + 4 * xy * xy));
    }

    /// <summary>Derivatives of <paramref name="factor"/> · (angle of the line, radians, counter-clockwise) by the samples.</summary>
    internal void AngleChanges(ReadOnlySpan<Point> points, double factor, Span<Point> changes)
    {
        var normal = new Point(-Along.Y, Along.X);
        for (var k = 0; k < points.Length; k++)
        {
            var (d, w) = (points[k] - Centre, factor * Simpson.Weight(k, points.Length) / Excess);
            changes[k] = w * d.Dot(Along) * normal + w * d.Dot(normal) * Along;
        }
    }
}
