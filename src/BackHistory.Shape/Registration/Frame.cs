using System.Collections.Immutable;

namespace BackHistory.Shape.Registration;

/// <summary>
/// The rigid motion (with unit and flips) from the sheet to the horse: unit, y up, tail to the right, midline mark at the origin, level
/// line along +x. The level vector is taken literally: drawn backwards it turns the sheet upside down.
/// </summary>
internal readonly struct Frame
{
    private readonly double scaleX,
        scaleY,
        cos,
        sin;
    private readonly Point origin;

    private Frame(double scaleX, double scaleY, Point origin, Point along)
    {
        this.scaleX = scaleX;
        this.scaleY = scaleY;
        this.origin = origin;
        (cos, sin) = (along.X / along.Length, along.Y / along.Length);
    }

    internal double TiltDegrees => Math.Atan2(sin, cos) * (180 / Math.PI);

    internal static Frame From(Tracing tracing)
    {
        var scale = Units.MillimetresPer(tracing.Unit) ?? throw new ArgumentException($"unknown unit {tracing.Unit}", nameof(tracing));
        var right = tracing.Kind == TracingKind.Topline && tracing.TailLeft ? -scale : scale;
        var up = tracing.YAxisDown ? -scale : scale;
        var along = tracing.Level is { } level
            ? new Point(right * (level.To.X - level.From.X), up * (level.To.Y - level.From.Y))
            : new Point(1, 0);
        return new Frame(right, up, tracing.Midline ?? default, along);
    }

    internal Point Place(Point p)
    {
        var (x, y) = (scaleX * (p.X - origin.X), scaleY * (p.Y - origin.Y));
        return new Point(cos * x + sin * y, cos * y - sin * x);
    }

    internal (double[] X, double[] Y) Place(ImmutableArray<Point> points)
    {
        var (x, y) = (new double[points.Length], new double[points.Length]);
        for (var i = 0; i < points.Length; i++)
            (x[i], y[i]) = Place(points[i]);
        return (x, y);
    }
}
