using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Contours;

internal static class Midline
{
    /// <summary>The parameter where the curve crosses x = 0, nearest to the mark at the origin when it does so more than once.</summary>
    internal static double? Find(PlaneSpline curve)
    {
        double? nearest = null;
        var least = double.PositiveInfinity;
        Span<double> roots = [0, 0, 0];
        for (var i = 0; i + 1 < curve.Count; i++)
        {
            var found = curve.CubicX(i).Solve(0, roots);
            for (var k = 0; k < found; k++)
            {
                var at = curve.Knot(i) + roots[k];
                var off = Math.Abs(curve.At(i, at).Y);
                if (off < least)
                    (nearest, least) = (at, off);
            }
        }
        return nearest;
    }
}
