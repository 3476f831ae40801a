using BackHistory.Shape.Errors;

namespace BackHistory.Shape.Contours;

/// <summary>
/// The vocabulary in which measures of one side are written: each word answers with a value and its derivatives, or with `not covered`.
/// </summary>
internal sealed class MeasuredArm
{
    /// <summary>Step between samples along the arm, mm; arcs given to <see cref="Samples"/> are multiples of twice this.</summary>
    internal const double Step = 1.25;
    private const double FarthestSample = 150;

    private readonly Arm arm;
    private readonly Sensitivity errors;
    private readonly SampledArc samples;

    internal MeasuredArm(Arm arm, Sensitivity errors)
    {
        (this.arm, this.errors) = (arm, errors);
        var reach = Math.Min(FarthestSample, arm.Length + Arm.LargestMissMillimetres);
        samples = new SampledArc(arm.Curve, 1 + (int)(reach / Step), Step, arm.Outwards, k => arm.Locate(k * Step));
    }

    internal double Outwards => arm.Outwards;

    /// <summary>Horizontal distance, mm, from the midline out to the outermost crossing at a depth.</summary>
    internal Estimate Reach(double depth)
    {
        if (arm.AtDepth(depth) is not { } crossing)
            return Estimate.NotCovered;
        return new(arm.Outwards * crossing.At.X, ReachGradient(crossing));
    }

    private Gradient? ReachGradient(Arm.Place crossing)
    {
        if (errors.Empty() is not { } gradient)
            return null;
        // The crossing slides along the contour until it is back at its depth, which hangs on M.
        var velocity = arm.Curve.Velocity(crossing.Parameter);
        var slide = velocity.X / velocity.Y;
        var weight = new Point(arm.Outwards, -arm.Outwards * slide);
        gradient.AddPoint(crossing.Parameter, weight);
        if (crossing.Bridge > 0)
        {
            var normal = 1 / velocity.Length * new Point(-velocity.Y, velocity.X);
            gradient.AddVelocity(crossing.Parameter, arm.Outwards * crossing.Bridge * weight.Dot(normal) / velocity.Length * normal);
        }
        AddMidlineHeight(gradient, arm.Outwards * slide);
        return gradient;
    }

    /// <summary>Height of M as the curve carries it: M stays on x = 0.</summary>
    private void AddMidlineHeight(Gradient gradient, double weight)
    {
        var velocity = arm.Curve.Velocity(arm.Midline);
        gradient.AddPoint(arm.Midline, new Point(-weight * velocity.Y / velocity.X, weight));
    }

    /// <summary>Height, mm, of a fixed place below M, as the noise of M makes it.</summary>
    internal Estimate DepthOf(Point place)
    {
        var gradient = errors.Empty();
        if (gradient is not null)
            AddMidlineHeight(gradient, 1);
        return new(-place.Y, gradient);
    }

    /// <summary>Signed area, mm², of M → along the contour → the crossing at a depth → (0, −depth) → M.</summary>
    internal Estimate AreaAbove(double depth)
    {
        if (arm.AtDepth(depth) is not { } crossing || !arm.CoversTo(crossing))
            return Estimate.NotCovered;
        double twice = 0;
        var gradient = errors.Empty();
        arm.ForNodes(
            crossing,
            (at, weight, point, velocity) =>
            {
                twice -= weight * point.Cross(velocity);
                gradient?.AddPoint(at, weight * new Point(-velocity.Y, velocity.X));
            }
        );
        var reach = arm.Outwards * crossing.At.X;
        if (crossing.Bridge > 0)
            twice -= arm.Outwards * arm.Curve.At(arm.End).Cross(crossing.At);
        if (gradient is not null)
            AddMidlineHeight(gradient, -reach);
        return new((twice + depth * reach) / 2, gradient);
    }

    /// <summary>
    /// Signed area, mm², between the contour and the straight chord from M to a point at an arc length; negative = hollow.
    /// </summary>
    internal Estimate AreaOverChord(double arc)
    {
        if (arm.AtArc(arc) is not { } end)
            return Estimate.NotCovered;
        double twice = 0;
        arm.ForNodes(end, (_, weight, point, velocity) => twice -= weight * point.Cross(velocity));
        if (end.Bridge > 0)
            twice -= arm.Outwards * arm.Curve.At(arm.End).Cross(end.At);
        return new(twice / 2, ChordAreaGradient(arc));
    }

    private Gradient? ChordAreaGradient(double arc)
    {
        var last = (int)Math.Round(arc / Step);
        var points = samples.Between(0, last);
        Span<Point> changes = stackalloc Point[points.Length];
        for (var k = 1; k < points.Length; k++)
        {
            var across = (k < last ? points[k + 1] : default) - points[k - 1];
            changes[k] = arm.Outwards / 2 * new Point(-across.Y, across.X);
        }
        return Pull(changes, 0);
    }

    /// <summary>
    /// Points at equal steps between two arc lengths from M, an odd number of them, or nothing when they are not covered.
    /// </summary>
    internal ReadOnlySpan<Point> Samples(double from, double to) =>
        arm.AtArc(to) is null ? [] : samples.Between((int)Math.Round(from / Step), (int)Math.Round(to / Step));

    /// <summary>Derivatives of a number by the curve, from its derivatives by the samples that begin at an arc length.</summary>
    internal Gradient? Pull(ReadOnlySpan<Point> changes, double from)
    {
        if (errors.Empty() is not { } gradient)
            return null;
        var (bySlip, sum) = samples.Pull(gradient, changes, (int)Math.Round(from / Step));
        // Arcs start at M, and places are seen from M.
        AddMidlineHeight(gradient, bySlip * arm.Outwards * arm.Curve.Tangent(arm.Midline).Y - sum.Y);
        return gradient;
    }
}
