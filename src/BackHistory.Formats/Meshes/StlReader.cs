using System.Buffers.Binary;
using BackHistory.Shape;

namespace BackHistory.Formats.Meshes;

/// <summary>STL, binary or ASCII. Its triangles share no corners: equal ones are made one.</summary>
internal static class StlReader
{
    private const int HeaderBytes = 84,
        TriangleBytes = 50;

    internal static void Read(ReadOnlySpan<byte> file, MeshBuilder mesh)
    {
        var welded = new Dictionary<Point3, int>();
        if (IsBinary(file))
            Binary(file, mesh, welded);
        else if (file.StartsWith("solid"u8))
            Ascii(file, mesh, welded);
        else
            throw ImportException.Unreadable("The file is not an STL mesh.");
    }

    /// <summary>Binary files may begin with the word `solid` too: the length decides.</summary>
    private static bool IsBinary(ReadOnlySpan<byte> file) =>
        file.Length >= HeaderBytes
        && HeaderBytes + (long)TriangleBytes * BinaryPrimitives.ReadUInt32LittleEndian(file[80..]) == file.Length;

    private static void Binary(ReadOnlySpan<byte> file, MeshBuilder mesh, Dictionary<Point3, int> welded)
    {
        var count = BinaryPrimitives.ReadUInt32LittleEndian(file[80..]);
        mesh.Expect(0, count);
        for (var k = 0; k < count; k++)
        {
            // The normal comes first; the corners' order says the same.
            var triangle = file.Slice(HeaderBytes + TriangleBytes * k + 12, 36);
            for (var c = 0; c < 3; c++)
                mesh.Corner(
                    Weld(mesh, welded, new Point3(Single(triangle, 12 * c), Single(triangle, 12 * c + 4), Single(triangle, 12 * c + 8)))
                );
            mesh.Face();
        }
    }

    private static double Single(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadSingleLittleEndian(bytes[at..]);

    private static void Ascii(ReadOnlySpan<byte> file, MeshBuilder mesh, Dictionary<Point3, int> welded)
    {
        var words = new TokenReader(file);
        words.Line();
        var corners = 0;
        for (var word = words.Word(); !word.IsEmpty; word = words.Word())
        {
            if (word.SequenceEqual("vertex"u8))
            {
                mesh.Corner(Weld(mesh, welded, new Point3(words.Number(), words.Number(), words.Number())));
                corners++;
            }
            else if (word.SequenceEqual("endloop"u8))
            {
                if (corners != 3)
                    throw ImportException.Unreadable("A facet of the mesh has not three corners.");
                corners = 0;
                mesh.Face();
            }
        }
    }

    private static int Weld(MeshBuilder mesh, Dictionary<Point3, int> welded, Point3 corner)
    {
        if (!welded.TryGetValue(corner, out var index))
            welded[corner] = index = mesh.Add(corner);
        return index;
    }
}
