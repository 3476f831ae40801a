using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Contours;

/// <summary>A smoothed topline read at its marks.</summary>
internal sealed class Topline(Contour contour)
{
    /// <summary>
    /// A place on the curve; before its start when <c>Bridge</c> is negative, past its end when positive, along the end tangent.
    /// </summary>
    internal readonly record struct Place(double Parameter, double Bridge, Point At);

    internal PlaneSpline Curve { get; } = contour.Curve;

    internal bool IsMarked(string mark) => contour.Marks.ContainsKey(mark);

    /// <summary>
    /// The point of the topline at the u of a mark (nearest to it, if there are several), or null when it is not covered.
    /// </summary>
    internal Place? At(string mark)
    {
        if (!contour.Marks.TryGetValue(mark, out var wanted))
            return null;
        return At(wanted);
    }

    /// <summary>Height of the topline at a u; null when it is not covered.</summary>
    internal double? HeightAtU(double u) => At(new Point(u, 0))?.At.Y;

    private Place? At(Point wanted)
    {
        var place = OnCurve(wanted) ?? Bridged(wanted.X);
        return place is { } found && !contour.Gaps.Touch(found.Parameter, found.Parameter) ? found : null;
    }

    private Place? OnCurve(Point wanted)
    {
        Place? nearest = null;
        var least = double.PositiveInfinity;
        Span<double> roots = [0, 0, 0];
        for (var i = 0; i + 1 < Curve.Count; i++)
        {
            var found = Curve.CubicX(i).Solve(wanted.X, roots);
            for (var k = 0; k < found; k++)
            {
                var at = Curve.Knot(i) + roots[k];
                var point = Curve.At(i, at);
                if (Math.Abs(point.Y - wanted.Y) is var off && off < least)
                    (nearest, least) = (new Place(at, 0, point), off);
            }
        }
        return nearest;
    }

    private Place? Bridged(double u)
    {
        foreach (var (end, outwards) in ((double, double)[])[(Curve.Start, -1), (Curve.End, 1)])
        {
            var (from, along) = (Curve.At(end), Curve.Tangent(end));
            if (outwards * (u - from.X) is <= 0 or > Arm.LargestMissMillimetres)
                continue;
            var bridge = (u - from.X) / along.X;
            if (outwards * bridge is > 0 and <= Arm.LongestBridgeMillimetres)
                return new Place(end, bridge, from + bridge * along);
        }
        return null;
    }

    /// <summary>The highest point ahead of a place.</summary>
    internal Place HighestAhead(Place limit)
    {
        Place highest = Curve.At(Curve.Start).Y > limit.At.Y ? new(Curve.Start, 0, Curve.At(Curve.Start)) : limit;
        ForTurnings(
            Curve.Start,
            limit.Parameter,
            Curve.CubicY,
            at =>
            {
                if (Curve.At(at) is var point && point.Y > highest.At.Y)
                    highest = new Place(at, 0, point);
            }
        );
        return highest;
    }

    internal bool Covers(Place from, Place to) => Covers(from.Parameter, to.Parameter);

    internal bool Covers(double from, double to) => !contour.Gaps.Touch(from, to);

    internal double ArcBetween(Place from, Place to) => Curve.ArcAt(to.Parameter) + to.Bridge - Curve.ArcAt(from.Parameter) - from.Bridge;

    /// <summary>The place farthest below the chord, vertically; null when the topline is never below it.</summary>
    internal Place? DeepestBelowChord(Place from, Place to)
    {
        var slope = (to.At.Y - from.At.Y) / (to.At.X - from.At.X);
        Place? place = null;
        double deepest = 0;
        ForTurnings(
            from.Parameter,
            to.Parameter,
            i =>
            {
                Cubic x = Curve.CubicX(i),
                    y = Curve.CubicY(i);
                return new Cubic(y.C0 - slope * x.C0, y.C1 - slope * x.C1, y.C2 - slope * x.C2, y.C3 - slope * x.C3, y.H);
            },
            at =>
            {
                var point = Curve.At(at);
                var depth = from.At.Y + slope * (point.X - from.At.X) - point.Y;
                if (depth > deepest)
                    (deepest, place) = (depth, new Place(at, 0, point));
            }
        );
        return place;
    }

    private void ForTurnings(double low, double high, Func<int, Cubic> piece, Action<double> visit)
    {
        Span<double> places = [0, 0];
        for (int i = Curve.Interval(low), last = Curve.Interval(high); i <= last; i++)
        {
            var count = piece(i).Turnings(places);
            for (var k = 0; k < count; k++)
                if (Curve.Knot(i) + places[k] is var at && at >= low && at <= high)
                    visit(at);
        }
    }

    /// <summary>Points at equal arc steps between two marks, or null when any of it is not covered.</summary>
    internal SampledArc? SampleBetween(string ahead, string behind, int steps)
    {
        if (At(ahead) is not { } from || At(behind) is not { } to || !Covers(from, to))
            return null;
        var (start, length) = (Curve.ArcAt(from.Parameter) + from.Bridge, ArcBetween(from, to));
        return new SampledArc(Curve, steps + 1, length / steps, 1, k => Locate(start + length * k / steps));
    }

    private (double Parameter, double Bridge) Locate(double arc) =>
        arc < 0 ? (Curve.Start, arc)
        : arc > Curve.Length ? (Curve.End, arc - Curve.Length)
        : (Curve.ParameterAtArc(arc), 0);
}
