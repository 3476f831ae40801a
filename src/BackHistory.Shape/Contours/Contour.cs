using System.Collections.Immutable;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Contours;

/// <summary>
/// The registered, smoothed curve of a tracing, in millimetres. Cross-sections: the midline point M is the origin and arc length counts
/// from it, negative to the left. Toplines: arc length counts from the head end.
/// </summary>
public sealed class Contour
{
    private readonly Smoothed smoothed;
    private readonly Registered registered;
    private readonly double arcOrigin;

    private Contour(Registered registered, Smoothed smoothed, double midline)
    {
        (this.registered, this.smoothed) = (registered, smoothed);
        Curve = smoothed.Curve;
        Gaps = new Gaps(registered, smoothed.Parameters);
        MidlineParameter = midline;
        if (registered.Kind == TracingKind.Topline)
            return;
        arcOrigin = Curve.ArcAt(midline);
        Left = new Arm(Curve, Gaps, midline, Side.Left);
        Right = new Arm(Curve, Gaps, midline, Side.Right);
    }

    /// <summary>Null when the smoothed curve of a cross-section never comes over the midline.</summary>
    internal static Contour? From(Registered registered) => From(registered, Smoother.Smooth(registered));

    internal static Contour? From(Registered registered, Smoothed fit)
    {
        if (registered.Kind == TracingKind.Topline)
            return new Contour(registered, fit, double.NaN);
        if (Midline.Find(fit.Curve) is not { } midline)
            return null;
        var height = fit.Curve.At(midline).Y;
        return new Contour(registered.Lowered(height), fit with { Curve = fit.Curve.Lowered(height) }, midline);
    }

    internal PlaneSpline Curve { get; }
    internal PenalisedFit? Fit => smoothed.Fit;

    /// <inheritdoc cref="Smoothed.Noise"/>
    internal double Noise => smoothed.Noise;
    internal Gaps Gaps { get; }

    /// <summary>Parameter of M on the curve of a cross-section; not a number for a topline.</summary>
    internal double MidlineParameter { get; }
    internal Arm? Left { get; }
    internal Arm? Right { get; }
    internal Registered Registered => registered;

    internal Arm? ArmOn(Side side) => side == Side.Left ? Left : Right;

    public TracingKind Kind => registered.Kind;

    /// <summary>The traced points in the frame of the contour, in order, repeats dropped.</summary>
    public ImmutableArray<Point> Traced => [.. Enumerable.Range(0, registered.Count).Select(i => registered[i])];

    /// <summary>Marks in the frame of the contour.</summary>
    public IReadOnlyDictionary<string, Point> Marks => registered.Marks;

    /// <summary>Root mean square distance of the points from their places on the curve, mm; 0 for an exact tracing.</summary>
    public double Residual => smoothed.Residual;

    /// <summary>Parameters that the smoother spent on each coordinate: between 2 (a straight line) and the number of points.</summary>
    public double EffectiveParameters => smoothed.EffectiveParameters;

    /// <summary>Arc lengths of the two ends; the left end of a cross-section is negative.</summary>
    public (double From, double To) ArcRange => (-arcOrigin, Curve.Length - arcOrigin);

    /// <summary>The point at an arc length (mm), or null beyond the ends.</summary>
    public Point? PointAtArc(double arc)
    {
        var fromStart = arc + arcOrigin;
        return fromStart >= 0 && fromStart <= Curve.Length ? Curve.At(Curve.ParameterAtArc(fromStart)) : null;
    }

    /// <summary>
    /// The outermost point of one side at a depth (mm, positive) below M, or null where it is not covered. Cross-sections only.
    /// </summary>
    public Point? CrossingAtDepth(Side side, double depth) => ArmOn(side)?.AtDepth(depth)?.At;

    /// <summary>Points along the whole curve, both ends included, at most <paramref name="step"/> mm of arc apart.</summary>
    public ImmutableArray<Point> Sample(double step)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        var pieces = Math.Max(1, (int)Math.Ceiling(Curve.Length / step));
        var points = ImmutableArray.CreateBuilder<Point>(pieces + 1);
        for (var k = 0; k <= pieces; k++)
            points.Add(Curve.At(Curve.ParameterAtArc(Curve.Length * k / pieces)));
        return points.MoveToImmutable();
    }
}
