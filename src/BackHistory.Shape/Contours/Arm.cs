using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Contours;

/// <summary>
/// One side of a cross-section: the contour from the midline point M outwards, with its end carried on along its tangent where that only
/// bridges a miss of at most a millimetre.
/// </summary>
internal sealed class Arm
{
    internal const double LargestMissMillimetres = 1;
    internal const double LongestBridgeMillimetres = 5;

    private readonly Gaps gaps;
    private readonly double midlineArc;

    internal Arm(PlaneSpline curve, Gaps gaps, double midline, Side side)
    {
        (Curve, this.gaps, Midline, Side) = (curve, gaps, midline, side);
        Outwards = side == Side.Left ? -1 : 1;
        End = side == Side.Left ? curve.Start : curve.End;
        midlineArc = curve.ArcAt(midline);
        Length = side == Side.Left ? midlineArc : curve.Length - midlineArc;
    }

    internal PlaneSpline Curve { get; }
    internal Side Side { get; }

    /// <summary>−1 left, +1 right: the sign of x, and of the parameter, on the way out.</summary>
    internal double Outwards { get; }

    /// <summary>Parameters of M and of the outer end.</summary>
    internal double Midline { get; }
    internal double End { get; }

    /// <summary>Arc length from M to the end of the traced contour.</summary>
    internal double Length { get; }

    /// <summary>A place on the arm; beyond the traced end when <c>Bridge</c> is positive.</summary>
    internal readonly record struct Place(double Parameter, double Bridge, Point At);

    internal Point EndTangent => Outwards * Curve.Tangent(End);

    /// <summary>The place at an arc length from M, or null when it is not covered.</summary>
    internal Place? AtArc(double arc)
    {
        if (arc > Length + LargestMissMillimetres)
            return null;
        var (at, bridge) = Locate(arc);
        return gaps.Touch(Midline, at) ? null : new Place(at, bridge, Curve.At(at) + bridge * EndTangent);
    }

    /// <summary>Parameter and bridge of an arc length from M.</summary>
    internal (double Parameter, double Bridge) Locate(double arc) =>
        arc > Length ? (End, arc - Length) : (Curve.ParameterAtArc(midlineArc + Outwards * arc), 0);

    /// <summary>The outermost place at a depth below M, or null when it is not covered.</summary>
    internal Place? AtDepth(double depth)
    {
        var place = OutermostCrossing(-depth) ?? BridgeTo(-depth);
        return place is { } found && !gaps.Touch(found.Parameter, found.Parameter) && !gaps.Touch(Midline, Midline) ? found : null;
    }

    /// <summary>True when the whole contour from M to a place was traced.</summary>
    internal bool CoversTo(Place place) => !gaps.Touch(Midline, place.Parameter);

    private Place? OutermostCrossing(double level)
    {
        Place? outermost = null;
        Span<double> roots = [0, 0, 0];
        var (low, high) = Ends;
        for (int i = Curve.Interval(low), last = Curve.Interval(high); i <= last; i++)
        {
            var found = Curve.CubicY(i).Solve(level, roots);
            for (var k = 0; k < found; k++)
            {
                var at = Curve.Knot(i) + roots[k];
                if (at < low || at > high)
                    continue;
                var point = Curve.At(i, at);
                if (outermost is not { } best || Outwards * point.X > Outwards * best.At.X)
                    outermost = new Place(at, 0, point);
            }
        }
        return outermost;
    }

    private Place? BridgeTo(double level)
    {
        if (LowestPoint() - level > LargestMissMillimetres)
            return null;
        Point from = Curve.At(End),
            along = EndTangent;
        var length = (level - from.Y) / along.Y;
        return length is >= 0 and <= LongestBridgeMillimetres ? new Place(End, length, from + length * along) : null;
    }

    private double LowestPoint()
    {
        var lowest = Curve.At(End).Y;
        Span<double> turnings = [0, 0];
        var (low, high) = Ends;
        for (int i = Curve.Interval(low), last = Curve.Interval(high); i <= last; i++)
        {
            var count = Curve.CubicY(i).Turnings(turnings);
            for (var k = 0; k < count; k++)
                if (Curve.Knot(i) + turnings[k] is var at && at >= low && at <= high)
                    lowest = Math.Min(lowest, Curve.At(i, at).Y);
        }
        return lowest;
    }

    private (double Low, double High) Ends => Side == Side.Left ? (End, Midline) : (Midline, End);

    /// <summary>Gauss nodes on the contour from M to a place: parameter, weight (positive), point, first derivative.</summary>
    internal void ForNodes(Place to, Action<double, double, Point, Point> visit)
    {
        var (low, high) = Side == Side.Left ? (to.Parameter, Midline) : (Midline, to.Parameter);
        for (int i = Curve.Interval(low), last = Curve.Interval(high); i <= last; i++)
        {
            double a = Math.Max(low, Curve.Knot(i)),
                b = Math.Min(high, Curve.Knot(i + 1)),
                half = (b - a) / 2;
            if (half <= 0)
                continue;
            for (var k = 0; k < Gauss.Nodes.Length; k++)
            {
                var at = (a + b) / 2 + half * Gauss.Nodes[k];
                visit(at, Gauss.Weights[k] * half, Curve.At(i, at), Curve.Velocity(i, at));
            }
        }
    }
}
