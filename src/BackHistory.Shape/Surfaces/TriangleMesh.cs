using System.Collections.Immutable;

namespace BackHistory.Shape.Surfaces;

/// <summary>A surface of triangles over shared corners, millimetres.</summary>
public sealed record TriangleMesh(ImmutableArray<Point3> Vertices, ImmutableArray<Triangle> Triangles)
{
    /// <summary>Sum of the areas of the triangles, mm².</summary>
    public double Area()
    {
        double sum = 0;
        foreach (var t in Triangles)
            sum += (Vertices[t.B] - Vertices[t.A]).Cross(Vertices[t.C] - Vertices[t.A]).Length / 2;
        return sum;
    }
}
