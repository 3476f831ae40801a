using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.Formats.Meshes;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Surfaces;
using BackHistory.Shape.Tests;
using CsCheck;

namespace BackHistory.Formats.Tests.Meshes;

public sealed class MeshTests
{
    private static readonly byte[] BunnyPly = File.ReadAllBytes(TestData.PathTo("mesh", "bunny.ply"));

    private static TriangleMesh Read(MeshFormat format, byte[] file)
    {
        var read = MeshImport.Read(format, file);
        Assert.Null(read.Refused);
        return read.Mesh!;
    }

    private static readonly TriangleMesh Bunny = Read(MeshFormat.Ply, BunnyPly);

    /// <summary>The back of the animal, forty millimetres a unit: about as wide as a pony's.</summary>
    private static readonly MeshFrame BunnyFrame = new(new Point3(1, 0, 0.8), new Point3(0, 1, 0), new Point3(-1, 0, 0), 40);

    public static TheoryData<int> Planes() => [.. Enumerable.Range(0, 4)];

    [Theory]
    [Trait("source", "VTK 9.1.0 vtkCutter on the Stanford bunny (Stanford 3D Scanning Repository, npm package bunny 1.0.1)")]
    [MemberData(nameof(Planes))]
    public void A_scanned_animal_is_cut_as_an_independent_library_cuts_it(int plane)
    {
        var expected = JsonDocument
            .Parse(File.ReadAllBytes(TestData.PathTo("mesh", "bunny_sections.json")))
            .RootElement.GetProperty("sections")[plane];
        var at = expected.GetProperty("at").GetDouble();
        var placed = Bunny.Vertices.Select(v => 40 * new Point3(v.Z - 0.8, v.Y, -(v.X - 1))).ToArray();
        var loops = MeshLoops.At(Bunny.Triangles, placed, at);
        Assert.Equal(expected.GetProperty("loops").GetInt32(), loops.Count);
        double Length(List<Point> points) => points.Zip(points.Skip(1), (a, b) => (b - a).Length).Sum();
        // The file holds single precision.
        Assert.Equal(expected.GetProperty("length").GetDouble(), loops.Sum(l => Length(l.Points)), 0.01);
        Assert.Equal(
            expected.GetProperty("area").GetDouble(),
            loops.Sum(l =>
                Math.Abs(
                    NetTopologySuite.Algorithm.Area.OfRingSigned([
                        .. l.Points.Select(p => new NetTopologySuite.Geometries.Coordinate(p.X, p.Y)),
                    ])
                )
            ),
            1.0
        );

        var section = Assert.Single(MeshCut.At(Bunny, BunnyFrame, [("mid-back", at)], depth: 120, noise: 0));
        Assert.Equal(("mid-back", at), (section.Station, section.FromDatum));
        Assert.Equal(expected.GetProperty("top").GetDouble(), section.Tracing!.Midline!.Value.Y, 1e-3);
        var answer = TracingAnalysis.Analyse(section.Tracing);
        foreach (var depth in (string[])["30", "60", "100"])
        {
            var crossings = expected.GetProperty("crossings").GetProperty(depth);
            Assert.Equal(crossings[1].GetDouble() - crossings[0].GetDouble(), answer.Value($"width@{depth}"), 1.0);
        }
    }

    private static TriangleMesh Cylinder(double radius, double length, int around = 720, int along = 8)
    {
        var vertices = Enumerable
            .Range(0, around * (along + 1))
            .Select(k => new Point3(
                radius * Math.Cos(2 * Math.PI * (k % around) / around),
                radius * Math.Sin(2 * Math.PI * (k % around) / around),
                length * (k / around) / along
            ));
        var triangles =
            from r in Enumerable.Range(0, along)
            from c in Enumerable.Range(0, around)
            from t in new[]
            {
                new Triangle(r * around + c, r * around + (c + 1) % around, (r + 1) * around + c),
                new Triangle(r * around + (c + 1) % around, (r + 1) * around + (c + 1) % around, (r + 1) * around + c),
            }
            select t;
        return new TriangleMesh([.. vertices], [.. triangles]);
    }

    [Fact]
    [Trait("source", "closed form: cylinder, frame turned and moved")]
    public void A_cylinder_that_lies_anywhere_is_cut_into_its_circle()
    {
        // Metres, z up, tail towards −y.
        var mesh = Cylinder(200, 600);
        var turned = mesh with { Vertices = [.. mesh.Vertices.Select(p => new Point3(p.X / 1000 + 3, -p.Z / 1000 - 1, p.Y / 1000 + 7))] };
        var frame = new MeshFrame(new Point3(3, -1, 7), new Point3(0, 0, 2), new Point3(0, -5, 0.4), 1000);
        var sections = MeshCut.At(turned, frame, [("a", 0.1), ("b", 300), ("c", 599.9), ("beyond", 700)], noise: 0);
        foreach (var section in sections.Take(3))
        {
            var answer = TracingAnalysis.Analyse(section.Tracing!);
            Assert.Equal(2 * Math.Sqrt(200 * 200 - 100 * 100), answer.Value("width@100"), 0.05);
            Assert.Equal(200, answer.Value("ridge-radius"), 0.5);
            Assert.Equal(answer.Value("slope-left"), answer.Value("slope-right"), 0.02);
            Assert.Empty(answer.Flags);
        }
        Assert.Equal("no-line", sections[3].Refused?.Code);
    }

    [Fact]
    public void Left_and_right_are_the_animals_own()
    {
        var mesh = Cylinder(200, 600) is var c
            ? c with
            {
                Vertices = [.. c.Vertices.Select(p => p.X > 0 ? p with { X = 1.2 * p.X } : p)],
            }
            : null!;
        var towardsTail = TracingAnalysis.Analyse(
            MeshCut.At(mesh, new MeshFrame(default, new(0, 1, 0), new(0, 0, 1)), [("s", 300)], noise: 0)[0].Tracing!
        );
        Assert.True(towardsTail.Value("half-area-right@100") > 1.1 * towardsTail.Value("half-area-left@100"));
        var otherWay = TracingAnalysis.Analyse(
            MeshCut.At(mesh, new MeshFrame(default, new(0, 1, 0), new(0, 0, -1)), [("s", -300)], noise: 0)[0].Tracing!
        );
        Assert.Equal(towardsTail.Value("half-area-right@100"), otherWay.Value("half-area-left@100"), 1e-6);
    }

    [Fact]
    public void An_open_scan_of_the_back_alone_is_cut_too()
    {
        var mesh = Cylinder(200, 600) is var c
            ? c with
            {
                Triangles = [.. c.Triangles.Where(t => new[] { t.A, t.B, t.C }.All(v => c.Vertices[v].Y > 20))],
            }
            : null!;
        var section = MeshCut.At(mesh, new MeshFrame(default, new(0, 1, 0), new(0, 0, 1)), [("s", 250)], noise: 0)[0];
        Assert.Equal(346.41, TracingAnalysis.Analyse(section.Tracing!).Value("width@100"), 0.05);
        Assert.True(section.Tracing!.Points.Min(p => p.Y) > 15);
    }

    [Theory]
    [InlineData(0, 0, 0, 0, 0, 1, 1)]
    [InlineData(0, 1, 0, 0, -3, 0, 1)]
    [InlineData(0, 1, 0, 0, 0, 1, 0)]
    [InlineData(0, 1, 0, 0, 0, 1, double.NaN)]
    public void A_frame_without_two_directions_and_a_unit_is_refused(
        double ux,
        double uy,
        double uz,
        double tx,
        double ty,
        double tz,
        double unit
    ) =>
        Assert.Equal(
            "unreadable",
            MeshCut.At(Bunny, new MeshFrame(default, new(ux, uy, uz), new(tx, ty, tz), unit), [("s", 0)])[0].Refused?.Code
        );

    [Fact]
    public void Every_format_tells_the_same_mesh()
    {
        string F(double v) => v.ToString("R", CultureInfo.InvariantCulture);
        var obj = new StringBuilder("# a scan\nmtllib none.mtl\n");
        foreach (var v in Bunny.Vertices)
            obj.Append(CultureInfo.InvariantCulture, $"v {F(v.X)} {F(v.Y)} {F(v.Z)} 1.0\nvn 0 0 1\n");
        foreach (var t in Bunny.Triangles)
            obj.Append(CultureInfo.InvariantCulture, $"f {t.A + 1}/1/1 {t.B - Bunny.Vertices.Length}//2 {t.C + 1}\r\n");
        var ply = new StringBuilder(
            $"ply\nformat ascii 1.0\ncomment x\nelement vertex {Bunny.Vertices.Length}\nproperty double x\nproperty double y\nproperty "
                + $"uchar red\nproperty double z\nelement face {Bunny.Triangles.Length}\nproperty uchar flags\nproperty list uchar int "
                + $"vertex_index\nelement edge 1\nproperty int a\nend_header\n"
        );
        foreach (var v in Bunny.Vertices)
            ply.Append(CultureInfo.InvariantCulture, $"{F(v.X)} {F(v.Y)} 7 {F(v.Z)}\n");
        foreach (var t in Bunny.Triangles)
            ply.Append(CultureInfo.InvariantCulture, $"0 3 {t.A} {t.B} {t.C}\n");
        ply.Append("5\n");
        var stl = new StringBuilder("solid bunny\n");
        string Vertex(int k) => $"  vertex {F(Bunny.Vertices[k].X)} {F(Bunny.Vertices[k].Y)} {F(Bunny.Vertices[k].Z)}\n";
        foreach (var t in Bunny.Triangles)
            stl.Append(
                CultureInfo.InvariantCulture,
                $"facet normal 0 0 0\n outer loop\n{string.Concat(new[] { t.A, t.B, t.C }.Select(Vertex))} endloop\nendfacet\n"
            );
        byte[] binary =
        [
            .. new byte[80],
            .. BitConverter.GetBytes(Bunny.Triangles.Length),
            .. Bunny.Triangles.SelectMany(t =>
                new byte[12]
                    .Concat(
                        new[] { t.A, t.B, t.C }
                            .Select(k => Bunny.Vertices[k])
                            .SelectMany(v => new[] { v.X, v.Y, v.Z })
                            .SelectMany(v => BitConverter.GetBytes((float)v))
                    )
                    .Concat(new byte[2])
            ),
        ];
        foreach (
            var mesh in (TriangleMesh[])
                [
                    Read(MeshFormat.Obj, Encoding.ASCII.GetBytes(obj.ToString())),
                    Read(MeshFormat.Ply, Encoding.ASCII.GetBytes(ply.ToString())),
                    Read(MeshFormat.Stl, Encoding.ASCII.GetBytes(stl + "endsolid\n")),
                    Read(MeshFormat.Stl, binary),
                    Read(MeshFormat.Ply, BigEndian()),
                ]
        )
        {
            Assert.Equal(Bunny.Triangles.Length, mesh.Triangles.Length);
            Assert.Equal(Bunny.Vertices.Length, mesh.Vertices.Length);
            Assert.Equal(Bunny.Area(), mesh.Area(), 1e-3);
        }

        byte[] BigEndian()
        {
            var header =
                $"ply\nformat binary_big_endian 1.0\nelement vertex {Bunny.Vertices.Length}\nproperty float64 x\nproperty float "
                + $"y\nproperty float32 z\nelement face {Bunny.Triangles.Length}\nproperty list ushort uint "
                + $"vertex_indices\nproperty short s\nproperty char c\nend_header\n";
            byte[] Big(byte[] bytes) => [.. bytes.Reverse()];
            return
            [
                .. Encoding.ASCII.GetBytes(header),
                .. Bunny.Vertices.SelectMany(v =>
                    Big(BitConverter.GetBytes(v.X))
                        .Concat(Big(BitConverter.GetBytes((float)v.Y)))
                        .Concat(Big(BitConverter.GetBytes((float)v.Z)))
                ),
                .. Bunny.Triangles.SelectMany(t =>
                    new byte[] { 0, 3 }
                        .Concat(new[] { t.A, t.B, t.C }.SelectMany(k => Big(BitConverter.GetBytes(k))))
                        .Concat(new byte[3])
                ),
            ];
        }
    }

    [Fact]
    public void Polygons_become_fans_of_triangles()
    {
        var mesh = Read(MeshFormat.Obj, "v 0 0 0\nv 2 0 0\nv 2 2 0\nv 1 3 0\nv 0 2 0\nf 1 2 3 4 5\n"u8.ToArray());
        Assert.Equal([new Triangle(0, 1, 2), new(0, 2, 3), new(0, 3, 4)], mesh.Triangles);
        Assert.Equal(5, mesh.Area(), 1e-12);
    }

    [Theory]
    [InlineData(MeshFormat.Obj, "unreadable", "")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2\nf 1 1 1\n")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2 3\nf 1 1 2\n")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2 3\nf 1 1 -2\n")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2 3\nf 0 1 1\n")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2 3\nf 1 x 1\n")]
    [InlineData(MeshFormat.Obj, "unreadable", "v 1 2 3\nf 99999999999 1 1\n")]
    [InlineData(MeshFormat.Obj, "not-finite", "v 1 NaN 3\nf 1 1 1\n")]
    [InlineData(MeshFormat.Stl, "unreadable", "hello")]
    [InlineData(MeshFormat.Stl, "unreadable", "solid x\nfacet\nouter loop\nvertex 1 2 3\nendloop\n")]
    [InlineData(MeshFormat.Stl, "unreadable", "solid x\nvertex 1 2")]
    [InlineData(MeshFormat.Ply, "unreadable", "plx\n")]
    [InlineData(MeshFormat.Ply, "unreadable", "ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\n")]
    [InlineData(MeshFormat.Ply, "unreadable", "ply\nformat odd 1.0\nend_header\n")]
    [InlineData(MeshFormat.Ply, "unreadable", "ply\nformat ascii 1.0\nelement vertex 5000000\nend_header\n")]
    [InlineData(MeshFormat.Ply, "too-large", "ply\nformat ascii 1.0\nelement vertex 999999999\nproperty float x\nend_header\n")]
    [InlineData(
        MeshFormat.Ply,
        "unreadable",
        "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list "
            + "uchar int vertex_indices\nend_header\n1 2 3\n3 0 0.5 0\n"
    )]
    [InlineData(
        MeshFormat.Ply,
        "unreadable",
        "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n70000 0\n"
    )]
    [InlineData(
        MeshFormat.Ply,
        "not-finite",
        "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nend_header\n1 2\n"
    )]
    public void A_mesh_that_cannot_be_meant_is_refused(MeshFormat format, string code, string file) =>
        Assert.Equal(code, MeshImport.Read(format, Encoding.ASCII.GetBytes(file)).Refused?.Code);

    [Fact]
    public void A_mesh_beyond_the_limits_is_refused()
    {
        Assert.Equal("too-large", MeshImport.Read(MeshFormat.Ply, BunnyPly, new ImportLimits(MeshBytes: 1000)).Refused?.Code);
        Assert.Equal("too-large", MeshImport.Read(MeshFormat.Ply, BunnyPly, new ImportLimits(Triangles: 1000)).Refused?.Code);
        var stl = new byte[84 + 50 * 20];
        BitConverter.GetBytes(20).CopyTo(stl, 80);
        Assert.Equal("too-large", MeshImport.Read(MeshFormat.Stl, stl, new ImportLimits(Triangles: 10)).Refused?.Code);
    }

    [Fact]
    public void No_damaged_mesh_whatever_makes_a_reader_throw() =>
        Gen.Select(Gen.Int[0, BunnyPly.Length - 1], Gen.Byte.Array[0, 12], Gen.Int[0, 4000])
            .Sample(
                (at, insert, cut) =>
                {
                    var file = BunnyPly.ToList();
                    file.RemoveRange(at, Math.Min(cut, file.Count - at));
                    file.InsertRange(at, insert);
                    foreach (var format in Enum.GetValues<MeshFormat>())
                    {
                        var read = MeshImport.Read(format, file.ToArray());
                        if (read.Mesh is not { } mesh)
                            continue;
                        Assert.True(mesh.Triangles.Length > 0);
                        Assert.NotEmpty(MeshCut.At(mesh, BunnyFrame, [("s", 0)]));
                    }
                },
                iter: 300
            );

    [Fact]
    public void A_mesh_of_a_million_triangles_is_cut_at_four_stations()
    {
        var mesh = Cylinder(200, 600, around: 1000, along: 500);
        Assert.Equal(1_000_000, mesh.Triangles.Length);
        var sections = MeshCut.At(
            mesh,
            new MeshFrame(default, new(0, 1, 0), new(0, 0, 1)),
            [("a", 50), ("b", 200), ("c", 350), ("d", 500)]
        );
        // How fast is for the benchmarks to say: a clock in a test measures the neighbours.
        Assert.All(sections, s => Assert.All(s.Tracing!.Points, p => Assert.Equal(200, p.Length, 0.01)));
    }
}
