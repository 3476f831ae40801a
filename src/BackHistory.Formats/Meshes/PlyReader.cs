using System.Buffers.Binary;
using System.Text;
using BackHistory.Shape;

namespace BackHistory.Formats.Meshes;

/// <summary>
/// PLY (Turk 1994): ASCII, little-endian or big-endian; corners `x y z` of element `vertex`, lists `vertex_indices` of element `face`.
/// </summary>
internal static class PlyReader
{
    private sealed record Property(string Name, string Type, string? CountType);

    private sealed record Element(string Name, long Count, List<Property> Properties);

    internal static void Read(ReadOnlySpan<byte> file, MeshBuilder mesh)
    {
        var reader = new TokenReader(file);
        var (format, elements) = Header(ref reader);
        foreach (var element in elements)
            mesh.Expect(element.Name == "vertex" ? element.Count : 0, element.Name == "face" ? element.Count : 0);
        IValues values = format == "ascii" ? new AsciiValues() : new BinaryValues(format == "binary_big_endian");
        var body = reader.Rest;
        foreach (var element in elements)
            for (long k = 0; k < element.Count; k++)
                One(element, values, ref body, mesh);
    }

    private static (string Format, List<Element> Elements) Header(ref TokenReader reader)
    {
        if (!reader.Line().SequenceEqual("ply"u8))
            throw ImportException.Unreadable("The file is not a PLY mesh.");
        var (format, elements) = ("", new List<Element>());
        for (var lines = 0; lines < 1000 && !reader.IsEmpty; lines++)
        {
            var words = Encoding.ASCII.GetString(reader.Line()).Split(' ', StringSplitOptions.RemoveEmptyEntries);
            switch (words)
            {
                case ["format", var name, _]:
                    format = name;
                    break;
                case ["element", var name, var count]:
                    elements.Add(new Element(name, TokenReader.Whole(Encoding.ASCII.GetBytes(count)), []));
                    break;
                case ["property", "list", var count, var type, var name] when elements.Count > 0:
                    elements[^1].Properties.Add(new Property(name, type, count));
                    break;
                case ["property", var type, var name] when elements.Count > 0:
                    elements[^1].Properties.Add(new Property(name, type, null));
                    break;
                case ["end_header"]:
                    if (format is not ("ascii" or "binary_little_endian" or "binary_big_endian"))
                        throw ImportException.Unreadable("The mesh has an unknown PLY format.");
                    if (elements.Any(e => e.Count < 0 || (e.Count > 0 && e.Properties.Count == 0)))
                        throw ImportException.Unreadable("The mesh has an element of nothing.");
                    return (format, elements);
                default:
                    break;
            }
        }
        throw ImportException.Unreadable("The header of the mesh does not end.");
    }

    private static void One(Element element, IValues values, ref ReadOnlySpan<byte> body, MeshBuilder mesh)
    {
        mesh.Breathe();
        double x = double.NaN,
            y = double.NaN,
            z = double.NaN;
        foreach (var property in element.Properties)
        {
            if (property.CountType is null)
            {
                var value = values.Read(property.Type, ref body);
                if (property.Name == "x")
                    x = value;
                else if (property.Name == "y")
                    y = value;
                else if (property.Name == "z")
                    z = value;
                continue;
            }
            var isFace = element.Name == "face" && property.Name is "vertex_indices" or "vertex_index";
            var count = values.Read(property.CountType, ref body);
            if (!(count >= 0 && count <= 1000))
                throw ImportException.Unreadable("A list of the mesh has an impossible length.");
            for (var k = 0; k < count; k++)
            {
                var value = values.Read(property.Type, ref body);
                if (isFace)
                    mesh.Corner(value >= 0 && value < int.MaxValue && value == Math.Floor(value) ? (long)value : -1);
            }
            if (isFace)
                mesh.Face();
        }
        if (element.Name == "vertex")
            mesh.Add(new Point3(x, y, z));
    }

    private interface IValues
    {
        double Read(string type, ref ReadOnlySpan<byte> body);
    }

    private sealed class AsciiValues : IValues
    {
        public double Read(string type, ref ReadOnlySpan<byte> body)
        {
            var words = new TokenReader(body);
            var value = words.Number();
            body = words.Rest;
            return value;
        }
    }

    private sealed class BinaryValues(bool bigEndian) : IValues
    {
        public double Read(string type, ref ReadOnlySpan<byte> body)
        {
            var size = type switch
            {
                "char" or "int8" or "uchar" or "uint8" => 1,
                "short" or "int16" or "ushort" or "uint16" => 2,
                "int" or "int32" or "uint" or "uint32" or "float" or "float32" => 4,
                "double" or "float64" => 8,
                _ => throw ImportException.Unreadable("The mesh has a property of an unknown type."),
            };
            if (body.Length < size)
                throw ImportException.Unreadable("The mesh breaks off before its end.");
            Span<byte> bytes = stackalloc byte[8];
            body[..size].CopyTo(bytes);
            if (bigEndian)
                bytes[..size].Reverse();
            body = body[size..];
            return type switch
            {
                "char" or "int8" => (sbyte)bytes[0],
                "uchar" or "uint8" => bytes[0],
                "short" or "int16" => BinaryPrimitives.ReadInt16LittleEndian(bytes),
                "ushort" or "uint16" => BinaryPrimitives.ReadUInt16LittleEndian(bytes),
                "int" or "int32" => BinaryPrimitives.ReadInt32LittleEndian(bytes),
                "uint" or "uint32" => BinaryPrimitives.ReadUInt32LittleEndian(bytes),
                "float" or "float32" => BinaryPrimitives.ReadSingleLittleEndian(bytes),
                _ => BinaryPrimitives.ReadDoubleLittleEndian(bytes),
            };
        }
    }
}
