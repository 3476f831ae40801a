using System.Numerics;
using System.Runtime.InteropServices;
using BackHistory.Shape;
using BackHistory.Shape.Surfaces;
using SharpGLTF.Memory;
using SharpGLTF.Schema2;

namespace BackHistory.Formats.Meshes;

/// <summary>A surface as binary glTF 2.0 (Khronos), in metres as the format has it, y up, the tail towards the viewer.</summary>
public static class GltfFile
{
    private const double MetresPerMillimetre = 1e-3;

    /// <param name="changes">one value for each corner, mm, positive = more horse: coloured when given</param>
    /// <param name="fullColour">change at which the colour is full, mm</param>
    public static byte[] Write(TriangleMesh mesh, string name, IReadOnlyList<double>? changes = null, double fullColour = 15)
    {
        if (changes is not null && changes.Count != mesh.Vertices.Length)
            throw new ArgumentException("One change for each corner is needed.", nameof(changes));
        var model = ModelRoot.CreateModel();
        var primitive = model.CreateMesh(name).CreatePrimitive();
        primitive.DrawPrimitiveType = PrimitiveType.TRIANGLES;
        Attribute(model, primitive, "POSITION", [.. mesh.Vertices.Select(p => Vector(MetresPerMillimetre * p))]);
        Attribute(model, primitive, "NORMAL", [.. MeshNormals.AtCorners(mesh).Select(Vector)]);
        if (changes is not null)
            Attribute(model, primitive, "COLOR_0", [.. changes.Select(c => ChangeColour.Linear(c, fullColour))]);
        Indices(model, primitive, mesh);
        primitive.Material = Hide(model);
        model.UseScene("back").CreateNode(name).Mesh = model.LogicalMeshes[0];
        model.DefaultScene = model.LogicalScenes[0];
        return model.WriteGLB().ToArray();
    }

    private static Vector3 Vector(Point3 p) => new((float)p.X, (float)p.Y, (float)p.Z);

    private static void Attribute(ModelRoot model, MeshPrimitive primitive, string name, Vector3[] values)
    {
        var view = model.UseBufferView(MemoryMarshal.AsBytes(values.AsSpan()).ToArray(), 0, null, 0, BufferMode.ARRAY_BUFFER);
        var accessor = model.CreateAccessor(name);
        accessor.SetVertexData(view, 0, values.Length, new AttributeFormat(DimensionType.VEC3, EncodingType.FLOAT));
        primitive.SetVertexAccessor(name, accessor);
    }

    private static void Indices(ModelRoot model, MeshPrimitive primitive, TriangleMesh mesh)
    {
        var indices = mesh.Triangles.SelectMany(t => new[] { (uint)t.A, (uint)t.B, (uint)t.C }).ToArray();
        var view = model.UseBufferView(MemoryMarshal.AsBytes(indices.AsSpan()).ToArray(), 0, null, 0, BufferMode.ELEMENT_ARRAY_BUFFER);
        var accessor = model.CreateAccessor("indices");
        accessor.SetIndexData(view, 0, indices.Length, IndexEncodingType.UNSIGNED_INT);
        primitive.SetIndexAccessor(accessor);
    }

    /// <summary>Dull, and seen from below too: a lofted back has no underside.</summary>
    private static Material Hide(ModelRoot model)
    {
        var material = model.CreateMaterial("hide");
        material.InitializePBRMetallicRoughness();
        material.FindChannel("BaseColor")?.Parameters[0].Value = new Vector4(0.8f, 0.77f, 0.72f, 1);
        if (material.FindChannel("MetallicRoughness") is { } surface)
        {
            surface.SetFactor("MetallicFactor", 0);
            surface.SetFactor("RoughnessFactor", 0.9f);
        }
        material.DoubleSided = true;
        return material;
    }
}
