namespace BackHistory.Shape.Measures;

/// <summary>
/// The circle of least mean squared orthogonal distance. Written with curvature instead of radius (Karimäki 1991, Nucl. Instrum. Meth. A
/// 305:187–191), so that a straight line is an ordinary member and the search never runs off to infinity.
/// </summary>
internal readonly struct CircleFit
{
    internal const double StraightMillimetres = 10_000;

    private readonly Point origin;
    private readonly Fit fit;

    private CircleFit(Point origin, Fit fit, double meanSquare) => (this.origin, this.fit, MeanSquare) = (origin, fit, meanSquare);

    /// <summary>
    /// Offset of the circle from the origin along its left normal, its direction there, its curvature (positive: centre on the left).
    /// </summary>
    private readonly struct Fit(double offset, double angle, double curvature)
    {
        internal double Offset { get; } = offset;
        internal double Angle { get; } = angle;
        internal double Curvature { get; } = curvature;
        internal Point Along { get; } = new(Math.Cos(angle), Math.Sin(angle));
    }

    /// <summary>Signed distance of a point to the circle, positive on the left, with its derivatives by the fit and by the point.</summary>
    private readonly record struct Distance(double Value, double ByOffset, double ByAngle, double ByCurvature, Point ByPlace);

    /// <summary>Mean squared orthogonal distance of the points, mm².</summary>
    internal double MeanSquare { get; }
    internal double Radius => 1 / Math.Abs(fit.Curvature);
    internal Point Centre => origin + (fit.Offset + 1 / fit.Curvature) * LeftNormal;

    private Point LeftNormal => new(-fit.Along.Y, fit.Along.X);

    /// <summary>Radius, mm, with the sign of the side on which the centre lies; null over ten metres.</summary>
    internal double? SignedRadius(bool positiveBelow)
    {
        if (!(Math.Abs(fit.Curvature) >= 1 / StraightMillimetres))
            return null;
        var below = fit.Curvature * LeftNormal.Y < 0;
        return below == positiveBelow ? Radius : -Radius;
    }

    /// <summary>Fits samples at equal arc steps, an odd number of them.</summary>
    internal static CircleFit ThroughUniform(ReadOnlySpan<Point> points)
    {
        Span<double> weights = stackalloc double[points.Length];
        Simpson.Fill(weights);
        return Through(points, weights);
    }

    /// <summary>Fits weighted points; the weights sum to one.</summary>
    internal static CircleFit Through(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights)
    {
        Point centre = default;
        for (var k = 0; k < points.Length; k++)
            centre += weights[k] * points[k];
        double xx = 0,
            xy = 0,
            yy = 0;
        Span<Point> local = stackalloc Point[points.Length];
        for (var k = 0; k < local.Length; k++)
        {
            var d = local[k] = points[k] - centre;
            (xx, xy, yy) = (xx + weights[k] * d.X * d.X, xy + weights[k] * d.X * d.Y, yy + weights[k] * d.Y * d.Y);
        }
        var line = Refine(local, weights, new Fit(0, Math.Atan2(2 * xy, xx - yy) / 2, 0));
        var circle = Refine(local, weights, Algebraic(local, weights));
        var (best, cost) = circle.Cost < line.Cost ? circle : line;
        return new CircleFit(centre, best, cost);
    }

    /// <summary>Derivatives of <see cref="SignedRadius"/> by the samples, to first order in their distances from the circle.</summary>
    internal void RadiusChanges(ReadOnlySpan<Point> points, double signedRadius, Span<Point> changes)
    {
        Span<double> weights = stackalloc double[points.Length];
        Simpson.Fill(weights);
        var normal = default(Symmetric3);
        for (var k = 0; k < points.Length; k++)
        {
            var d = At(points[k] - origin, fit);
            normal.Add(weights[k], d.ByOffset, d.ByAngle, d.ByCurvature);
        }
        var (offset, angle, curvature) = normal.Solve(0, 0, 1);
        // Radius is ±1/curvature, and curvature answers a rise of the distances with a fall.
        var factor = signedRadius / fit.Curvature;
        for (var k = 0; k < points.Length; k++)
        {
            var d = At(points[k] - origin, fit);
            changes[k] = factor * weights[k] * (offset * d.ByOffset + angle * d.ByAngle + curvature * d.ByCurvature) * d.ByPlace;
        }
    }

    /// <summary>Start from the circle of least squared power of the points (Kåsa 1976).</summary>
    private static Fit Algebraic(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights)
    {
        var normal = default(Symmetric3);
        double rightX = 0,
            rightY = 0,
            right = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var (p, square) = (points[k], points[k].Dot(points[k]));
            normal.Add(weights[k], p.X, p.Y, 1);
            (rightX, rightY, right) = (rightX + weights[k] * p.X * square, rightY + weights[k] * p.Y * square, right + weights[k] * square);
        }
        var (a, b, c) = normal.Solve(rightX, rightY, right);
        Point middle = new(a / 2, b / 2);
        var radius = Math.Sqrt(c + middle.Dot(middle));
        if (!double.IsFinite(radius) || radius == 0 || middle.Length == 0)
            return default;
        var towards = 1 / middle.Length * middle;
        return new Fit(middle.Length - radius, Math.Atan2(-towards.X, towards.Y), 1 / radius);
    }

    /// <summary>Levenberg–Marquardt on offset, angle and curvature.</summary>
    private static (Fit Fit, double Cost) Refine(ReadOnlySpan<Point> points, ReadOnlySpan<double> weights, Fit start)
    {
        var (fit, damping) = (start, 1e-6);
        var (normal, gradient, cost) = Normal(points, weights, fit);
        for (var step = 0; step < 60 && cost > 0; step++)
        {
            var (offset, angle, curvature) = normal.Damped(damping).Solve(gradient.Offset, gradient.Angle, gradient.Curvature);
            var next = new Fit(fit.Offset - offset, fit.Angle - angle, fit.Curvature - curvature);
            var (nextNormal, nextGradient, nextCost) = Normal(points, weights, next);
            if (nextCost < cost)
            {
                var gained = cost - nextCost;
                (fit, normal, gradient, cost, damping) = (next, nextNormal, nextGradient, nextCost, damping / 10);
                if (gained <= 1e-13 * cost)
                    break;
            }
            else if ((damping = Math.Max(damping, 1e-6) * 10) > 1e9)
                break;
        }
        return (fit, cost);
    }

    private static (Symmetric3 Normal, (double Offset, double Angle, double Curvature) Gradient, double Cost) Normal(
        ReadOnlySpan<Point> points,
        ReadOnlySpan<double> weights,
        Fit fit
    )
    {
        var normal = default(Symmetric3);
        double offset = 0,
            angle = 0,
            curvature = 0,
            cost = 0;
        for (var k = 0; k < points.Length; k++)
        {
            var (d, w) = (At(points[k], fit), weights[k]);
            normal.Add(w, d.ByOffset, d.ByAngle, d.ByCurvature);
            var off = w * d.Value;
            (offset, angle, curvature) = (offset + off * d.ByOffset, angle + off * d.ByAngle, curvature + off * d.ByCurvature);
            cost += w * d.Value * d.Value;
        }
        return (normal, (offset, angle, curvature), double.IsNaN(cost) ? double.PositiveInfinity : cost);
    }

    private static Distance At(Point p, Fit fit)
    {
        var (cos, sin) = fit.Along;
        double along = p.X * cos + p.Y * sin,
            across = p.Y * cos - p.X * sin - fit.Offset,
            k = fit.Curvature;
        // Power of the point: across − k/2 (along² + across²) = d − k/2 d², solved for d without dividing by k.
        var power = across - k / 2 * (along * along + across * across);
        var root = Math.Sqrt(Math.Max(0, 1 - 2 * k * power));
        var d = 2 * power / (1 + root);
        if (root == 0)
            return new(d, 0, 0, 0, default);
        var (byAcross, byAlong) = ((1 - k * across) / root, -k * along / root);
        return new(
            d,
            -byAcross,
            byAlong * (across + fit.Offset) - byAcross * along,
            (d * d - along * along - across * across) / (2 * root),
            byAlong * new Point(cos, sin) + byAcross * new Point(-sin, cos)
        );
    }
}
