using System.Buffers.Binary;
using System.Text;
using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

/// <summary>
/// A surface as binary STL, in millimetres, which is what printers and milling machines take the format's bare numbers for.
/// </summary>
public static class StlFile
{
    private const int HeaderBytes = 84,
        TriangleBytes = 50;

    public static byte[] Write(TriangleMesh mesh)
    {
        var file = new byte[HeaderBytes + TriangleBytes * mesh.Triangles.Length];
        // A header that begins with "solid" would be taken for the text form.
        Encoding.ASCII.GetBytes("Back surface in millimetres: x to the right, y up, z towards the tail").CopyTo(file, 0);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(80), (uint)mesh.Triangles.Length);
        var at = HeaderBytes;
        foreach (var t in mesh.Triangles)
        {
            var (a, b, c) = (mesh.Vertices[t.A], mesh.Vertices[t.B], mesh.Vertices[t.C]);
            var place = file.AsSpan(at, TriangleBytes);
            Put(place, 0, MeshNormals.Normal(a, b, c));
            Put(place, 12, a);
            Put(place, 24, b);
            Put(place, 36, c);
            at += TriangleBytes;
        }
        return file;
    }

    private static void Put(Span<byte> place, int at, Point3 p)
    {
        BinaryPrimitives.WriteSingleLittleEndian(place[at..], (float)p.X);
        BinaryPrimitives.WriteSingleLittleEndian(place[(at + 4)..], (float)p.Y);
        BinaryPrimitives.WriteSingleLittleEndian(place[(at + 8)..], (float)p.Z);
    }
}
