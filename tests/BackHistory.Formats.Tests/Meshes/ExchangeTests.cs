using System.Text;
using BackHistory.Formats.Drawings;
using BackHistory.Formats.Meshes;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Surfaces;
using SharpGLTF.Schema2;

namespace BackHistory.Formats.Tests.Meshes;

public sealed class ExchangeTests
{
    private static Contour Back(double radius) =>
        TracingAnalysis
            .Analyse(
                new Tracing
                {
                    Kind = TracingKind.CrossSection,
                    Points =
                    [
                        .. Enumerable
                            .Range(-150, 301)
                            .Select(k => new Point(radius * Math.Sin(k / 100.0), radius * (Math.Cos(k / 100.0) - 1))),
                    ],
                    Noise = 0,
                }
            )
            .Contour!;

    private static BackSurface Surface(double radius) =>
        BackSurface
            .Loft([new("shoulder", 0, Back(radius)), new("mid-back", 200, Back(radius + 10)), new("last-rib", 400, Back(radius))])
            .Surface!;

    [Fact]
    public void A_surface_written_as_STL_is_read_back_in_millimetres()
    {
        var mesh = Surface(200).Mesh(10);
        var file = StlFile.Write(mesh);
        Assert.Equal(84 + 50 * mesh.Triangles.Length, file.Length);
        Assert.False(Encoding.ASCII.GetString(file).StartsWith("solid", StringComparison.Ordinal));
        var read = MeshImport.Read(MeshFormat.Stl, file).Mesh!;
        Assert.Equal(mesh.Triangles.Length, read.Triangles.Length);
        Assert.Equal(mesh.Vertices.Length, read.Vertices.Length);
        Assert.Equal(mesh.Area(), read.Area(), 1.0);
        // The first facet's normal points away from the horse.
        Assert.True(BitConverter.ToSingle(file, 84) < 0);
    }

    [Fact]
    public void A_surface_written_as_glTF_is_valid_in_metres_and_faces_outwards()
    {
        var mesh = Surface(200).Mesh(10);
        using var stream = new MemoryStream(GltfFile.Write(mesh, "back"));
        var model = ModelRoot.ReadGLB(stream, new ReadSettings { Validation = SharpGLTF.Validation.ValidationMode.Strict });
        var primitive = Assert.Single(Assert.Single(model.LogicalMeshes).Primitives);
        var positions = primitive.GetVertexAccessor("POSITION").AsVector3Array();
        Assert.Equal(mesh.Vertices.Length, positions.Count);
        Assert.Equal(0.4, positions.Max(p => p.Z), 1e-6);
        Assert.Equal(mesh.Vertices[57].X / 1000, positions[57].X, 1e-6);
        Assert.Equal(3 * mesh.Triangles.Length, primitive.IndexAccessor.Count);
        Assert.All(primitive.GetVertexAccessor("NORMAL").AsVector3Array(), n => Assert.Equal(1, n.Length(), 1e-5f));
        Assert.True(primitive.GetVertexAccessor("NORMAL").AsVector3Array()[mesh.Vertices.Length / 2].Y > 0.9);
        Assert.Null(primitive.GetVertexAccessor("COLOR_0"));
    }

    [Fact]
    public void A_change_map_is_coloured_corner_by_corner()
    {
        var map = ChangeMap.Between(Surface(200), Surface(212), 8)!;
        using var stream = new MemoryStream(GltfFile.Write(map.Mesh(), "change", map.Changes, fullColour: 5));
        var colours = ModelRoot.ReadGLB(stream).LogicalMeshes[0].Primitives[0].GetVertexAccessor("COLOR_0").AsColorArray();
        Assert.Equal(map.Changes.Length, colours.Count);
        var most = Enumerable.Range(0, map.Changes.Length).Where(k => !double.IsNaN(map.Changes[k])).MaxBy(k => map.Changes[k]);
        Assert.True(colours[most].Y > 3 * colours[most].X, "gain is green");
        Assert.Throws<ArgumentException>(() => GltfFile.Write(map.Mesh(), "change", [1.0]));
    }

    [Fact]
    public void Gain_loss_and_nothing_known_have_colours_that_stay_apart()
    {
        Assert.Equal(new(27, 120, 55), ChangeColour.Screen(40, 15));
        Assert.Equal(new(118, 42, 131), ChangeColour.Screen(-15, 15));
        Assert.Equal(new(245, 245, 245), ChangeColour.Screen(0, 15));
        Assert.Equal(new(150, 150, 150), ChangeColour.Screen(double.NaN, 15));
    }

    [Theory]
    [InlineData(ContourFormat.Svg)]
    [InlineData(ContourFormat.Dxf)]
    public void A_contour_drawn_at_full_size_is_read_back_at_full_size(ContourFormat format)
    {
        var contour = Back(180);
        DrawnLine[] lines = [DrawnLine.Sample("mid-back", contour), new("level <&>", [new(-100, 0), new(100, 0)])];
        var text = format == ContourFormat.Svg ? ContourDrawing.Svg(lines) : ContourDrawing.Dxf(lines);
        var read = ContourImport.Read(format, Encoding.UTF8.GetBytes(text)).Contours!;
        Assert.True(read.UnitStated);
        Assert.Equal(["mid-back", "level----"], read.Lines.Select(l => l.Name), StringComparer.Ordinal);
        Assert.Equal(contour.ArcRange.To - contour.ArcRange.From, read.Lines[0].Length, 0.05);
        Assert.Equal(200, read.Lines[1].Length, 1e-9);
        Assert.Equal(contour.Sample(0.25)[0].X, read.Lines[0].Points.Min(p => p.X), 0.05);
        var again = TracingAnalysis.Analyse(read.Lines[0].ToTracing(TracingKind.CrossSection, noise: 0));
        Assert.Equal(contour.CrossingAtDepth(Side.Left, 100)!.Value.X, again.Contour!.CrossingAtDepth(Side.Left, 100)!.Value.X, 0.01);
    }

    [Fact]
    public void Nothing_is_no_drawing() => Assert.Throws<ArgumentException>(() => ContourDrawing.Svg([]));
}
