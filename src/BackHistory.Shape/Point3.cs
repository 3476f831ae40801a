namespace BackHistory.Shape;

/// <summary>A place on a back in millimetres: X to the horse's right, Y up, Z from the datum towards the tail. Right-handed.</summary>
public readonly record struct Point3(double X, double Y, double Z)
{
    public static Point3 operator +(Point3 a, Point3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Point3 operator -(Point3 a, Point3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Point3 operator *(double k, Point3 p) => new(k * p.X, k * p.Y, k * p.Z);

    internal double Dot(Point3 b) => X * b.X + Y * b.Y + Z * b.Z;

    internal Point3 Cross(Point3 b) => new(Y * b.Z - Z * b.Y, Z * b.X - X * b.Z, X * b.Y - Y * b.X);

    internal double Length => Math.Sqrt(Dot(this));
    internal bool IsFinite => double.IsFinite(X) && double.IsFinite(Y) && double.IsFinite(Z);
}
