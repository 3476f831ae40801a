using BackHistory.Shape.Errors;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Contours;

/// <summary>
/// Points of a curve at equal steps of arc length from an anchor, with what moving the curve does to a number that is computed from them.
/// </summary>
internal sealed class SampledArc
{
    private readonly PlaneSpline curve;
    private readonly double[] parameters;
    private readonly Point[] points,
        tangents;
    private readonly double step;

    /// <param name="arcs">arc length from the start of the curve and bridge beyond its end, for sample k</param>
    /// <param name="outwards">+1 when the samples follow the parameter, −1 when they run against it</param>
    internal SampledArc(PlaneSpline curve, int count, double step, double outwards, Func<int, (double Parameter, double Bridge)> arcs)
    {
        (this.curve, this.step) = (curve, step);
        (parameters, points, tangents) = (new double[count], new Point[count], new Point[count]);
        for (var k = 0; k < count; k++)
        {
            var (at, bridge) = arcs(k);
            (parameters[k], tangents[k]) = (at, outwards * curve.Tangent(at));
            points[k] = curve.At(at) + bridge * tangents[k];
        }
    }

    internal int Count => points.Length;

    internal ReadOnlySpan<Point> Between(int first, int last) => points.AsSpan(first, last - first + 1);

    /// <summary>
    /// Adds to a gradient what the number gains by moving the curve, when moving sample first + k changes it by changes[k]. A sample keeps
    /// its arc length from the anchor: it moves across the curve with it, and along it as the curve before it grows longer. What is left to
    /// the anchor is returned: how the number changes with the anchor's slip along the curve, and the sum of all changes.
    /// </summary>
    internal (double BySlip, Point Sum) Pull(Gradient gradient, ReadOnlySpan<Point> changes, int first)
    {
        double slip = 0;
        Point sum = default;
        for (var k = first + changes.Length - 1; k >= 0; k--)
        {
            var (change, tangent) = (k >= first ? changes[k - first] : default, tangents[k]);
            var along = change.Dot(tangent);
            sum += change;
            // Length gained before sample j is −∫κ·shift; by the trapezoid rule sample k stands for one step, the ends for half of one.
            var lengthening = k == 0 ? step / 2 * slip : step * (slip + along / 2);
            slip += along;
            gradient.AddPoint(parameters[k], change - along * tangent + lengthening * curve.Bend(parameters[k]));
        }
        return (slip, sum);
    }

    /// <summary>The same for a number that only moves across the curve change.</summary>
    internal void PullAcross(Gradient gradient, ReadOnlySpan<Point> changes)
    {
        for (var k = 0; k < changes.Length; k++)
            gradient.AddPoint(parameters[k], changes[k] - changes[k].Dot(tangents[k]) * tangents[k]);
    }

    /// <summary>Length of the sampled arc between ends that stay where they are.</summary>
    internal void PullLength(Gradient gradient)
    {
        for (var k = 0; k < Count; k++)
            gradient.AddPoint(parameters[k], -(k == 0 || k == Count - 1 ? step / 2 : step) * curve.Bend(parameters[k]));
    }
}
