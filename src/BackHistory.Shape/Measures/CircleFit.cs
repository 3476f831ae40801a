using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Shape;

/// <summary>
/// The circle of least mean squared orthogonal distance. Written with curvature instead of radius (Karimäki 1991, Nucl. Instrum. Meth. A
/// 305:187–191), so that a straight line is an ordinary member and the search never runs off to infinity.
/// </summary>
/// <param name="Curvature">1/mm, positive when the centre lies to the left of <paramref name="Along"/></param>
/// <param name="Nearest">the point of the circle nearest to the centroid of the samples</param>
/// <param name="Along">unit direction of the circle at that point</param>
/// <param name="MeanSquare">mean squared orthogonal distance, mm²</param>
internal readonly record struct CircleFit(double Curvature, Point Nearest, Point Along, double MeanSquare)
{
    internal const double StraightMillimetres = 10_000;

    internal double Radius => 1 / Math.Abs(Curvature);
    internal Point Centre => Nearest + 1 / Curvature * new Point(-Along.Y, Along.X);

    /// <summary>Radius, mm, with the sign of the side on which the centre lies; over ten metres it is `straight`.</summary>
    internal Estimate SignedRadius(bool positiveBelow)
    {
        if (!(Math.Abs(Curvature) >= 1 / StraightMillimetres)) return Estimate.Missing("straight");
        return Centre.Y < Nearest.Y == positiveBelow ? Radius : -Radius;
    }

    /// <summary>Fits samples at equal arc steps, an odd number of them.</summary>
    internal static CircleFit ThroughUniform(ReadOnlySpan<Point> points)
    {
        var weights = new double[points.Length];
        for (var k = 0; k < weights.Length; k++) weights[k] = Simpson.Weight(k, weights.Length);
        return Through(points, weights);
    }

    /// <summary>Fits weighted points; the weights sum to one.</summary>
    internal static CircleFit Through(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights)
    {
        Point centre = default;
        double xx = 0, xy = 0, yy = 0;
        for (var k = 0; k < points.Length; k++) centre += weights[k] * points[k];
        var local = new Point[points.Length];
        for (var k = 0; k < local.Length; k++)
        {
            var d = local[k] = points[k] - centre;
            (xx, xy, yy) = (xx + weights[k] * d.X * d.X, xy + weights[k] * d.X * d.Y, yy + weights[k] * d.Y * d.Y);
        }
        var angle = Math.Atan2(2 * xy, xx - yy) / 2;
        var (fromLine, fromCircle) = (Refine(local, weights, new Fit(0, angle, 0)), Refine(local, weights, Algebraic(local, weights)));
        var best = fromCircle.MeanSquare < fromLine.MeanSquare ? fromCircle : fromLine;
        return best with { Nearest = best.Nearest + centre };
    }

    /// <summary>Offset of the circle from the origin along its left normal, its direction there, its curvature.</summary>
    private readonly record struct Fit(double Offset, double Angle, double Curvature);

    /// <summary>Start from the circle of least squared power of the points (Kåsa 1976).</summary>
    private static Fit Algebraic(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights)
    {
        var normal = new double[3, 3];
        var right = new double[3];
        Span<double> row = [0, 0, 1];
        for (var k = 0; k < points.Length; k++)
        {
            (row[0], row[1]) = (points[k].X, points[k].Y);
            for (var i = 0; i < 3; i++)
            {
                right[i] += weights[k] * row[i] * points[k].Dot(points[k]);
                for (var j = 0; j < 3; j++) normal[i, j] += weights[k] * row[i] * row[j];
            }
        }
        var solved = Matrix<double>.Build.DenseOfArray(normal).Solve(Vector<double>.Build.Dense(right));
        Point middle = new(solved[0] / 2, solved[1] / 2);
        var radius = Math.Sqrt(solved[2] + middle.Dot(middle));
        if (!double.IsFinite(radius) || radius == 0 || middle.Length == 0) return default;
        // Counter-clockwise round the centre, the centre is on the left.
        var towards = 1 / middle.Length * middle;
        return new Fit(middle.Length - radius, Math.Atan2(-towards.X, towards.Y), 1 / radius);
    }

    /// <summary>Levenberg–Marquardt on offset, angle and curvature.</summary>
    private static CircleFit Refine(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights, Fit start)
    {
        var (fit, damping) = (start, 1e-3);
        var cost = MeanSquareOf(points, weights, fit);
        for (var step = 0; step < 100 && cost > 0; step++)
        {
            var (normal, gradient) = Normal(points, weights, fit);
            for (var i = 0; i < 3; i++) normal[i, i] *= 1 + damping;
            var change = normal.Solve(gradient);
            var next = new Fit(fit.Offset - change[0], fit.Angle - change[1], fit.Curvature - change[2]);
            var nextCost = MeanSquareOf(points, weights, next);
            if (nextCost < cost)
            {
                var gained = cost - nextCost;
                (fit, cost, damping) = (next, nextCost, damping / 10);
                if (gained <= 1e-15 * cost) break;
            }
            else if ((damping *= 10) > 1e12) break;
        }
        var (sin, cos) = Math.SinCos(fit.Angle);
        return new CircleFit(fit.Curvature, fit.Offset * new Point(-sin, cos), new Point(cos, sin), cost);
    }

    private static double MeanSquareOf(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights, Fit fit)
    {
        double sum = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var d = Distance(points[k], fit).Value;
            sum += weights[k] * d * d;
        }
        return double.IsNaN(sum) ? double.PositiveInfinity : sum;
    }

    /// <summary>Signed distance to the circle, positive on the left, with its derivatives by offset, angle and curvature.</summary>
    private static (double Value, double ByOffset, double ByAngle, double ByCurvature) Distance(Point p, Fit fit)
    {
        var (sin, cos) = Math.SinCos(fit.Angle);
        double along = p.X * cos + p.Y * sin, across = p.Y * cos - p.X * sin - fit.Offset, k = fit.Curvature;
        // Power of the point: across − k/2 (along² + across²) = d − k/2 d², solved for d without dividing by k.
        var power = across - k / 2 * (along * along + across * across);
        var root = Math.Sqrt(Math.Max(0, 1 - 2 * k * power));
        var d = 2 * power / (1 + root);
        if (root == 0) return (d, 0, 0, 0);
        var (byAcross, byAlong) = ((1 - k * across) / root, -k * along / root);
        var byCurvature = (d * d - along * along - across * across) / (2 * root);
        return (d, -byAcross, byAcross * -along + byAlong * (across + fit.Offset), byCurvature);
    }

    private static (Matrix<double> Normal, Vector<double> Gradient) Normal(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights, Fit fit)
    {
        var (normal, gradient) = (Matrix<double>.Build.Dense(3, 3), Vector<double>.Build.Dense(3));
        Span<double> row = [0, 0, 0];
        for (var k = 0; k < points.Length; k++)
        {
            (var d, row[0], row[1], row[2]) = Distance(points[k], fit);
            for (var i = 0; i < 3; i++)
            {
                gradient[i] += weights[k] * row[i] * d;
                for (var j = 0; j < 3; j++) normal[i, j] += weights[k] * row[i] * row[j];
            }
        }
        return (normal, gradient);
    }
}
