using BackHistory.Shape;

namespace BackHistory.Formats.Meshes;

/// <summary>Wavefront OBJ: the lines `v` and `f`; everything else (normals, textures, groups, materials) is passed over.</summary>
internal static class ObjReader
{
    internal static void Read(ReadOnlySpan<byte> file, MeshBuilder mesh)
    {
        var lines = new TokenReader(file);
        while (!lines.IsEmpty)
        {
            mesh.Breathe();
            var line = new TokenReader(lines.Line());
            var word = line.Word();
            if (word.SequenceEqual("v"u8))
                mesh.Add(new Point3(line.Number(), line.Number(), line.Number()));
            else if (word.SequenceEqual("f"u8))
                Face(line, mesh);
        }
    }

    private static void Face(TokenReader line, MeshBuilder mesh)
    {
        for (var corner = line.Word(); !corner.IsEmpty; corner = line.Word())
        {
            var slash = corner.IndexOf((byte)'/');
            var index = TokenReader.Whole(slash < 0 ? corner : corner[..slash]);
            // Counted from 1, or backwards from the last corner so far.
            mesh.Corner(index < 0 ? mesh.Corners + index : index - 1);
        }
        mesh.Face();
    }
}
