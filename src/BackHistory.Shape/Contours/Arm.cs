namespace BackHistory.Shape;

/// <summary>
/// One side of a cross-section: the contour from the midline point M outwards, with its end carried on along its tangent where that only
/// bridges a miss of at most a millimetre.
/// </summary>
internal sealed class Arm
{
    internal const double LargestMissMillimetres = 1;
    internal const double LongestBridgeMillimetres = 5;

    private readonly PlaneSpline curve;
    private readonly Gaps gaps;
    private readonly double midline, end, midlineArc;

    internal Arm(PlaneSpline curve, Gaps gaps, double midline, Side side)
    {
        (this.curve, this.gaps, this.midline, Side) = (curve, gaps, midline, side);
        Outwards = side == Side.Left ? -1 : 1;
        end = side == Side.Left ? curve.Start : curve.End;
        midlineArc = curve.ArcAt(midline);
        Length = side == Side.Left ? midlineArc : curve.Length - midlineArc;
    }

    internal Side Side { get; }

    /// <summary>−1 left, +1 right: the sign of x, and of the parameter, on the way out.</summary>
    internal double Outwards { get; }

    /// <summary>Arc length from M to the end of the traced contour.</summary>
    internal double Length { get; }

    internal PlaneSpline Curve => curve;

    /// <summary>A place on the arm; beyond the traced end when <c>Bridge</c> is positive.</summary>
    internal readonly record struct Place(double Parameter, double Bridge, Point At);

    private Point EndPoint => curve.At(end);

    private Point EndTangent => Outwards * curve.Tangent(end);

    /// <summary>The place at an arc length from M, or null when it is not covered.</summary>
    internal Place? AtArc(double arc)
    {
        if (arc > Length + LargestMissMillimetres) return null;
        var place = Locate(arc);
        return gaps.Touch(midline, place.Parameter) ? null : place;
    }

    private Place Locate(double arc)
    {
        if (arc > Length) return new Place(end, arc - Length, EndPoint + (arc - Length) * EndTangent);
        var at = curve.ParameterAtArc(midlineArc + Outwards * arc);
        return new Place(at, 0, curve.At(at));
    }

    /// <summary>The outermost place at a depth below M, or null when it is not covered.</summary>
    internal Place? AtDepth(double depth)
    {
        var place = OutermostCrossing(-depth) ?? BridgeTo(-depth);
        return place is { } found && !gaps.Touch(found.Parameter, found.Parameter) && !gaps.Touch(midline, midline) ? found : null;
    }

    private Place? OutermostCrossing(double level)
    {
        Place? outermost = null;
        Span<double> roots = [0, 0, 0];
        var (low, high) = Side == Side.Left ? (end, midline) : (midline, end);
        for (int i = curve.Interval(low), last = curve.Interval(high); i <= last; i++)
        {
            var found = curve.CubicY(i).Solve(level, roots);
            for (var k = 0; k < found; k++)
            {
                var at = curve.Knot(i) + roots[k];
                if (at < low || at > high) continue;
                var point = curve.At(i, at);
                if (outermost is not { } best || Outwards * point.X > Outwards * best.At.X) outermost = new Place(at, 0, point);
            }
        }
        return outermost;
    }

    private Place? BridgeTo(double level)
    {
        if (LowestPoint() - level > LargestMissMillimetres) return null;
        Point from = EndPoint, along = EndTangent;
        var length = (level - from.Y) / along.Y;
        return length is >= 0 and <= LongestBridgeMillimetres ? new Place(end, length, from + length * along) : null;
    }

    private double LowestPoint()
    {
        var lowest = EndPoint.Y;
        Span<double> turnings = [0, 0];
        var (low, high) = Side == Side.Left ? (end, midline) : (midline, end);
        for (int i = curve.Interval(low), last = curve.Interval(high); i <= last; i++)
        {
            var count = curve.CubicY(i).Turnings(turnings);
            for (var k = 0; k < count; k++)
                if (curve.Knot(i) + turnings[k] is var at && at >= low && at <= high) lowest = Math.Min(lowest, curve.At(i, at).Y);
        }
        return lowest;
    }

    /// <summary>
    /// Twice the signed area swept by the ray from M along the contour to a place, bridge included; positive where the arm
    /// runs outwards and down over a filled side. The contour is a polynomial, so the rule is exact.
    /// </summary>
    internal double TwiceSweptArea(Place to)
    {
        double sum = 0;
        var (low, high) = Side == Side.Left ? (to.Parameter, midline) : (midline, to.Parameter);
        for (int i = curve.Interval(low), last = curve.Interval(high); i <= last; i++)
        {
            double a = Math.Max(low, curve.Knot(i)), b = Math.Min(high, curve.Knot(i + 1)), half = (b - a) / 2;
            if (half <= 0) continue;
            for (var k = 0; k < Gauss.Nodes.Length; k++)
            {
                var at = (a + b) / 2 + half * Gauss.Nodes[k];
                sum += Gauss.Weights[k] * half * curve.At(i, at).Cross(curve.Velocity(i, at));
            }
        }
        // Along the left arm the parameter falls and the area lies to the left of the way; on the right both turn round.
        return -sum - (to.Bridge > 0 ? Outwards * EndPoint.Cross(to.At) : 0);
    }

    /// <summary>True when the whole contour from M to a place was traced.</summary>
    internal bool CoversTo(Place place) => !gaps.Touch(midline, place.Parameter);

    /// <summary>Points at equal arc steps from <paramref name="from"/> to <paramref name="to"/> (mm from M), or null when not covered.</summary>
    internal Point[]? Sample(double from, double to, int steps)
    {
        if (AtArc(to) is null) return null;
        var points = new Point[steps + 1];
        for (var k = 0; k <= steps; k++) points[k] = Locate(from + (to - from) * k / steps).At;
        return points;
    }
}
