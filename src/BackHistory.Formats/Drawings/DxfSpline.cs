using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>SPLINE entities: rational B-splines by de Boor's algorithm (de Boor, A Practical Guide to Splines, chapter X).</summary>
internal static class DxfSpline
{
    private const int HighestDegree = 10;
    private const int ChordsPerSpan = 24;

    internal static List<Point> Points(DxfEntity e, Drawing drawing)
    {
        double[] x = e.All(10),
            y = e.All(20),
            knots = e.All(40),
            weights = e.All(41);
        if (x.Length == 0)
            return FitPoints(e);
        var degree = e.Number(71, 3);
        if (degree is not (>= 1 and <= HighestDegree) || degree != Math.Floor(degree))
            throw ImportException.Unreadable("A spline of the drawing has an impossible degree.");
        var p = (int)degree;
        if (x.Length != y.Length || x.Length <= p || knots.Length != x.Length + p + 1 || (weights.Length > 0 && weights.Length != x.Length))
            throw ImportException.Unreadable("A spline of the drawing has the wrong number of knots.");
        for (var k = 0; k + 1 < knots.Length; k++)
            if (!(knots[k] <= knots[k + 1]))
                throw ImportException.Unreadable("A spline of the drawing has knots out of order.");
        if (weights.Any(w => !(w > 0)))
            throw ImportException.Unreadable("A spline of the drawing has a weight that is not positive.");
        var line = new List<Point>();
        for (var span = p; span < x.Length; span++)
        {
            if (knots[span] == knots[span + 1])
                continue;
            drawing.Count(ChordsPerSpan);
            if (line.Count == 0)
                line.Add(At(knots[span], span, p, knots, x, y, weights));
            for (var k = 1; k <= ChordsPerSpan; k++)
                line.Add(At(knots[span] + (knots[span + 1] - knots[span]) * k / ChordsPerSpan, span, p, knots, x, y, weights));
        }
        return line;
    }

    /// <summary>A spline that only knows the points it was drawn through.</summary>
    private static List<Point> FitPoints(DxfEntity e)
    {
        double[] x = e.All(11),
            y = e.All(21);
        if (x.Length != y.Length)
            throw ImportException.Unreadable("A spline of the drawing has half a point.");
        return [.. x.Zip(y, (a, b) => new Point(a, b))];
    }

    private static Point At(double t, int span, int p, double[] knots, double[] x, double[] y, double[] weights)
    {
        const int most = HighestDegree + 1;
        Span<double> px = stackalloc double[most],
            py = stackalloc double[most],
            pw = stackalloc double[most];
        for (var k = 0; k <= p; k++)
        {
            var i = span - p + k;
            pw[k] = weights.Length > 0 ? weights[i] : 1;
            (px[k], py[k]) = (pw[k] * x[i], pw[k] * y[i]);
        }
        for (var level = 1; level <= p; level++)
        for (var k = p; k >= level; k--)
        {
            double left = knots[span - p + k],
                right = knots[span + 1 + k - level],
                a = (t - left) / (right - left);
            px[k] += (1 - a) * (px[k - 1] - px[k]);
            py[k] += (1 - a) * (py[k - 1] - py[k]);
            pw[k] += (1 - a) * (pw[k - 1] - pw[k]);
        }
        return new Point(px[p] / pw[p], py[p] / pw[p]);
    }
}
