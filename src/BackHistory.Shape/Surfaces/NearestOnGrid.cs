namespace BackHistory.Shape.Surfaces;

/// <summary>Drops perpendiculars on a tabulated surface: Gauss–Newton on its bilinear patches from a good start.</summary>
internal sealed class NearestOnGrid(SurfaceGrid grid)
{
    private const int Steps = 4;

    /// <summary>
    /// Distance of a point along the normal of the surface, positive outside; not a number where the surface was not traced or ends short
    /// of the foot.
    /// </summary>
    /// <param name="row">row to start from</param>
    /// <param name="across">place across the row to start from, 0 … 1</param>
    internal double SignedDistance(Point3 p, int row, double across)
    {
        double u = across * (grid.Columns - 1),
            v = row;
        double lastU = grid.Columns - 1,
            lastV = grid.Rows.Length - 1;
        Point3 off = default,
            byU = default,
            byV = default;
        double outside = 0;
        for (var step = 0; step <= Steps; step++)
        {
            (var at, byU, byV) = Patch(u, v);
            off = p - at;
            if (step == Steps)
                break;
            double uu = byU.Dot(byU),
                uv = byU.Dot(byV),
                vv = byV.Dot(byV),
                du = off.Dot(byU),
                dv = off.Dot(byV),
                turn = uu * vv - uv * uv;
            if (turn <= 0)
                return double.NaN;
            double nextU = u + (vv * du - uv * dv) / turn,
                nextV = v + (uu * dv - uv * du) / turn;
            (u, v) = (Math.Clamp(nextU, 0, lastU), Math.Clamp(nextV, 0, lastV));
            outside = Math.Abs(nextU - u) * Math.Sqrt(uu);
        }
        if (outside > 2 * byU.Length)
            return double.NaN;
        if (!grid.Covered((int)Math.Round(v), (int)Math.Round(u)))
            return double.NaN;
        var normal = byV.Cross(byU);
        return off.Dot(normal) / normal.Length;
    }

    private (Point3 At, Point3 ByU, Point3 ByV) Patch(double u, double v)
    {
        int j = Math.Min((int)u, grid.Columns - 2),
            k = Math.Min((int)v, grid.Rows.Length - 2);
        double s = u - j,
            t = v - k;
        Point3 a = grid.At(k, j),
            b = grid.At(k, j + 1),
            c = grid.At(k + 1, j),
            d = grid.At(k + 1, j + 1);
        var (near, far) = (a + s * (b - a), c + s * (d - c));
        return (near + t * (far - near), b - a + t * (d - c - (b - a)), far - near);
    }
}
