using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

internal static class MeshNormals
{
    /// <summary>Unit normal of a triangle seen counter-clockwise; up for one without an area.</summary>
    internal static Point3 Normal(Point3 a, Point3 b, Point3 c) => Unit(Cross(b - a, c - a));

    /// <summary>Unit normals at the corners: the mean of the triangles round each, by area.</summary>
    internal static Point3[] AtCorners(TriangleMesh mesh)
    {
        var sums = new Point3[mesh.Vertices.Length];
        foreach (var t in mesh.Triangles)
        {
            var normal = Cross(mesh.Vertices[t.B] - mesh.Vertices[t.A], mesh.Vertices[t.C] - mesh.Vertices[t.A]);
            sums[t.A] += normal;
            sums[t.B] += normal;
            sums[t.C] += normal;
        }
        return Array.ConvertAll(sums, Unit);
    }

    private static Point3 Cross(Point3 a, Point3 b) => new(a.Y * b.Z - a.Z * b.Y, a.Z * b.X - a.X * b.Z, a.X * b.Y - a.Y * b.X);

    private static Point3 Unit(Point3 p)
    {
        var length = Math.Sqrt(p.X * p.X + p.Y * p.Y + p.Z * p.Z);
        return length > 0 ? 1 / length * p : new Point3(0, 1, 0);
    }
}
