using System.Collections.Immutable;
using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

/// <summary>
/// Triangle meshes of scanners: Wavefront OBJ, PLY (ASCII and binary) and STL (ASCII and binary). Coordinates stay in the unit and axes of
/// the file: <see cref="MeshFrame"/> says what they are. Refusals: `too-large`, `unreadable`, `not-finite`.
/// </summary>
public static class MeshImport
{
    public static MeshRead Read(
        MeshFormat format,
        ReadOnlyMemory<byte> file,
        ImportLimits? limits = null,
        CancellationToken cancel = default
    )
    {
        try
        {
            var bounds = limits ?? ImportLimits.Default;
            if (file.Length > bounds.MeshBytes)
                throw ImportException.TooLarge($"The file has {file.Length} bytes; at most {bounds.MeshBytes} are read.");
            var builder = new MeshBuilder(bounds, cancel);
            switch (format)
            {
                case MeshFormat.Obj:
                    ObjReader.Read(file.Span, builder);
                    break;
                case MeshFormat.Ply:
                    PlyReader.Read(file.Span, builder);
                    break;
                default:
                    StlReader.Read(file.Span, builder);
                    break;
            }
            return new(builder.Finish(), null);
        }
        catch (ImportException refused)
        {
            return new(null, refused.Refusal);
        }
    }
}

/// <summary>Collects corners and triangles under their limits.</summary>
internal sealed class MeshBuilder(ImportLimits limits, CancellationToken cancel)
{
    private readonly ImmutableArray<Point3>.Builder vertices = ImmutableArray.CreateBuilder<Point3>();
    private readonly ImmutableArray<Triangle>.Builder triangles = ImmutableArray.CreateBuilder<Triangle>();
    private readonly List<int> polygon = [];
    private int steps;

    internal int Corners => vertices.Count;

    /// <summary>Refuses a count before room is made for it.</summary>
    internal void Expect(long corners, long faces)
    {
        if (corners < 0 || faces < 0 || corners > limits.Triangles || faces > limits.Triangles)
            throw ImportException.TooLarge($"The mesh has more than {limits.Triangles} corners or triangles.");
    }

    internal void Breathe()
    {
        if ((++steps & 0xFFF) == 0)
            cancel.ThrowIfCancellationRequested();
    }

    internal int Add(Point3 corner)
    {
        Breathe();
        if (!corner.IsFinite)
            throw new ImportException(Refusal.NotFinite, "A corner of the mesh is no number.");
        if (vertices.Count >= limits.Triangles)
            Expect(vertices.Count + 1L, 0);
        vertices.Add(corner);
        return vertices.Count - 1;
    }

    internal void Corner(long index)
    {
        if (index < 0 || index >= int.MaxValue)
            throw ImportException.Unreadable("A face of the mesh names a corner that does not exist.");
        if (polygon.Count >= 1000)
            throw ImportException.Unreadable("A face of the mesh has more than 1000 corners.");
        polygon.Add((int)index);
    }

    /// <summary>Ends a face: a fan of triangles from its first corner.</summary>
    internal void Face()
    {
        Breathe();
        for (var k = 1; k + 1 < polygon.Count; k++)
        {
            if (triangles.Count >= limits.Triangles)
                Expect(0, triangles.Count + 1L);
            triangles.Add(new Triangle(polygon[0], polygon[k], polygon[k + 1]));
        }
        polygon.Clear();
    }

    internal TriangleMesh Finish()
    {
        if (triangles.Count == 0)
            throw ImportException.Unreadable("The file holds no triangles.");
        foreach (var t in triangles)
            if (t.A >= vertices.Count || t.B >= vertices.Count || t.C >= vertices.Count)
                throw ImportException.Unreadable("A face of the mesh names a corner that does not exist.");
        return new TriangleMesh(vertices.DrainToImmutable(), triangles.DrainToImmutable());
    }
}
