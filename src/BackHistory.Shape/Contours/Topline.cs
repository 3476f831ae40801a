namespace BackHistory.Shape;

/// <summary>A smoothed topline read at its marks.</summary>
internal sealed class Topline(Contour contour)
{
    private readonly PlaneSpline curve = contour.Curve;

    /// <summary>A place on the curve; before its start when <c>Bridge</c> is negative, past its end when positive, along the end tangent.</summary>
    internal readonly record struct Place(double Parameter, double Bridge, Point At);

    /// <summary>The point of the topline at the u of a mark (nearest to it, if there are several), or null when it is not covered.</summary>
    internal Place? At(string mark)
    {
        if (!contour.Marks.TryGetValue(mark, out var wanted)) return null;
        var place = OnCurve(wanted) ?? Bridged(wanted.X);
        return place is { } found && !contour.Gaps.Touch(found.Parameter, found.Parameter) ? found : null;
    }

    private Place? OnCurve(Point wanted)
    {
        Place? nearest = null;
        var least = double.PositiveInfinity;
        Span<double> roots = [0, 0, 0];
        for (var i = 0; i + 1 < curve.Count; i++)
        {
            var found = curve.CubicX(i).Solve(wanted.X, roots);
            for (var k = 0; k < found; k++)
            {
                var at = curve.Knot(i) + roots[k];
                var point = curve.At(i, at);
                if (Math.Abs(point.Y - wanted.Y) is var off && off < least) (nearest, least) = (new Place(at, 0, point), off);
            }
        }
        return nearest;
    }

    private Place? Bridged(double u)
    {
        foreach (var (end, outwards) in ((double, double)[])[(curve.Start, -1), (curve.End, 1)])
        {
            var (from, along) = (curve.At(end), curve.Tangent(end));
            if (outwards * (u - from.X) is <= 0 or > Arm.LargestMissMillimetres) continue;
            var bridge = (u - from.X) / along.X;
            if (outwards * bridge is > 0 and <= Arm.LongestBridgeMillimetres) return new Place(end, bridge, from + bridge * along);
        }
        return null;
    }

    /// <summary>The mark `withers`, or else the highest point ahead of `mid-back`; with the reason when there is neither.</summary>
    internal (Place? Place, Estimate Why) Withers()
    {
        if (contour.Marks.ContainsKey(StationMarks.Withers)) return (At(StationMarks.Withers), Estimate.NotCovered);
        if (!contour.Marks.ContainsKey(StationMarks.MidBack))
            return (null, Estimate.Missing("not covered: neither 'withers' nor 'mid-back' is marked"));
        if (At(StationMarks.MidBack) is not { } midBack || contour.Gaps.Touch(curve.Start, midBack.Parameter)) return (null, Estimate.NotCovered);
        var highest = curve.At(midBack.Parameter).Y >= curve.At(curve.Start).Y
            ? midBack : new Place(curve.Start, 0, curve.At(curve.Start));
        ForTurnings(curve.Start, midBack.Parameter, curve.CubicY, at =>
        {
            if (curve.At(at) is var point && point.Y > highest.At.Y) highest = new Place(at, 0, point);
        });
        return (highest, Estimate.NotCovered);
    }

    internal bool Covers(Place from, Place to) => !contour.Gaps.Touch(from.Parameter, to.Parameter);

    internal double ArcBetween(Place from, Place to) => curve.ArcAt(to.Parameter) + to.Bridge - curve.ArcAt(from.Parameter) - from.Bridge;

    /// <summary>Greatest vertical distance below the chord, and where; the ends of the chord count as 0.</summary>
    internal (double Depth, Point At) DeepestBelowChord(Place from, Place to)
    {
        var slope = (to.At.Y - from.At.Y) / (to.At.X - from.At.X);
        var (deepest, place) = (0.0, from.At);
        ForTurnings(from.Parameter, to.Parameter, i =>
        {
            Cubic x = curve.CubicX(i), y = curve.CubicY(i);
            return new Cubic(y.C0 - slope * x.C0, y.C1 - slope * x.C1, y.C2 - slope * x.C2, y.C3 - slope * x.C3, y.H);
        }, at =>
        {
            var point = curve.At(at);
            var depth = from.At.Y + slope * (point.X - from.At.X) - point.Y;
            if (depth > deepest) (deepest, place) = (depth, point);
        });
        return (deepest, place);
    }

    private void ForTurnings(double low, double high, Func<int, Cubic> piece, Action<double> visit)
    {
        Span<double> places = [0, 0];
        for (int i = curve.Interval(low), last = curve.Interval(high); i <= last; i++)
        {
            var count = piece(i).Turnings(places);
            for (var k = 0; k < count; k++)
                if (curve.Knot(i) + places[k] is var at && at >= low && at <= high) visit(at);
        }
    }

    /// <summary>Points at equal arc steps between two marks, or null when any of it is not covered.</summary>
    internal Point[]? SampleBetween(string ahead, string behind, int steps)
    {
        if (At(ahead) is not { } from || At(behind) is not { } to || !Covers(from, to)) return null;
        var (start, length) = (curve.ArcAt(from.Parameter) + from.Bridge, ArcBetween(from, to));
        var points = new Point[steps + 1];
        for (var k = 0; k <= steps; k++) points[k] = Locate(start + length * k / steps);
        return points;
    }

    private Point Locate(double arc) =>
        arc < 0 ? curve.At(curve.Start) + arc * curve.Tangent(curve.Start)
        : arc > curve.Length ? curve.At(curve.End) + (arc - curve.Length) * curve.Tangent(curve.End)
        : curve.At(curve.ParameterAtArc(arc));
}
