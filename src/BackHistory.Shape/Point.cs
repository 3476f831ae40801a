namespace BackHistory.Shape;

/// <summary>
/// A place on a tracing or contour. Millimetres unless the owner says otherwise. Cross-sections are seen from behind: X to the
/// horse's right, Y up. Toplines: X along the back towards the tail, Y up.
/// </summary>
public readonly record struct Point(double X, double Y)
{
    public static Point operator +(Point a, Point b) => new(a.X + b.X, a.Y + b.Y);

    public static Point operator -(Point a, Point b) => new(a.X - b.X, a.Y - b.Y);

    public static Point operator *(double k, Point p) => new(k * p.X, k * p.Y);

    internal bool IsFinite => double.IsFinite(X) && double.IsFinite(Y);
    internal double Length => Math.Sqrt(X * X + Y * Y);

    internal double Dot(Point b) => X * b.X + Y * b.Y;

    internal double Cross(Point b) => X * b.Y - Y * b.X;
}
