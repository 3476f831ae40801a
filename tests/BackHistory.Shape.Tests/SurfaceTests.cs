using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Surfaces;
using MathNet.Numerics.Integration;

namespace BackHistory.Shape.Tests;

public sealed class SurfaceTests
{
    private static Contour Of(Tracing tracing) => TracingAnalysis.Analyse(tracing).Contour!;

    private static Contour Circle(double radius, double halfAngle = 1.5) => Of(Shapes.Circle(radius, 601, halfAngle));

    private static BackSurface Loft(params (string Station, double At, Contour Contour)[] sections) => Loft(null, sections);

    private static BackSurface Loft(Contour? topline, params (string Station, double At, Contour Contour)[] sections)
    {
        var (surface, fault) = BackSurface.Loft(sections.Select(s => new StationSection(s.Station, s.At, s.Contour)), topline);
        Assert.Null(fault);
        return surface!;
    }

    private static readonly (string, double)[] Stations = [("shoulder", 0), ("behind-shoulder", 102), ("mid-back", 270), ("last-rib", 440)];

    private static double Segment(double r, double depth) =>
        r * r * Math.Acos((r - depth) / r) - (r - depth) * Math.Sqrt(2 * r * depth - depth * depth);

    [Fact]
    [Trait("source", "closed form: cylinder")]
    public void A_back_of_equal_circles_is_a_cylinder()
    {
        var surface = Loft([.. Stations.Select(s => (s.Item1, s.Item2, Circle(200)))]);
        var answer = TracingAnalysis.Analyse(surface.TracingAt(200)!);
        Assert.Equal(346.4102, answer.Value("width@100"), 0.02);
        foreach (var volume in surface.HalfVolumes())
        {
            Assert.Equal(Segment(200, 100) / 2 * 440 / 1e6, volume.Value!.Value, 1e-4);
            Assert.Equal("l", volume.Unit);
        }
        var mesh = surface.Mesh(5);
        Assert.Equal(600 * 440, mesh.Area(), 60.0);
        foreach (var t in mesh.Triangles.Where((_, k) => k % 97 == 0))
        {
            var normal = (mesh.Vertices[t.B] - mesh.Vertices[t.A]).Cross(mesh.Vertices[t.C] - mesh.Vertices[t.A]);
            Assert.True(
                normal.Dot(mesh.Vertices[t.A] - new Point3(0, -200, mesh.Vertices[t.A].Z)) > 0,
                "corners are counter-clockwise seen from outside"
            );
        }
    }

    [Fact]
    [Trait("source", "closed form: wedge volume, h(A1 + A2)/2 for linear sides")]
    public void A_wedge_between_two_gables_has_the_mean_of_their_areas()
    {
        double length(double slope) => 200 / Math.Sin(slope * Math.PI / 180);
        var surface = Loft(
            ("shoulder", 0, Of(Shapes.Gable(55, 50, length(55)) with { Points = Cut(55, 50) })),
            ("last-rib", 300, Of(Shapes.Gable(40, 45, length(40)) with { Points = Cut(40, 45) }))
        );
        double Area(double slope) => 100 * 100 / Math.Tan(slope * Math.PI / 180) / 2;
        Assert.Equal(300 * (Area(55) + Area(40)) / 2 / 1e6, surface.HalfVolumes()[0].Value!.Value, 2e-4);
        Assert.Equal(300 * (Area(50) + Area(45)) / 2 / 1e6, surface.HalfVolumes()[1].Value!.Value, 2e-4);

        // Both sides down to the same depth: the same share of the arc is the same depth at every station.
        System.Collections.Immutable.ImmutableArray<Point> Cut(double left, double right) =>
            [
                .. Enumerable
                    .Range(-400, 801)
                    .Select(k => new Point(k / 2.0 / Math.Tan((k < 0 ? left : right) * Math.PI / 180), -Math.Abs(k) / 2.0)),
            ];
    }

    [Fact]
    [Trait("source", "closed form section areas, integrated by MathNet.Numerics: frustum of a cone")]
    public void A_frustum_of_a_cone_holds_the_integral_of_its_segments()
    {
        var surface = Loft(("shoulder", 0, Circle(150)), ("last-rib", 400, Circle(250)));
        var expected = GaussLegendreRule.Integrate(z => Segment(150 + 100 * z / 400, 100), 0, 400, 20) / 2 / 1e6;
        foreach (var half in surface.HalfVolumes())
            Assert.Equal(expected, half.Value!.Value, 2e-4);
        var middle = TracingAnalysis.Analyse(surface.TracingAt(200)!);
        Assert.Equal(2 * Math.Sqrt(200 * 200 - 100 * 100), middle.Value("width@100"), 0.02);
        Assert.Equal(200, middle.Value("ridge-radius"), 0.1);
    }

    [Fact]
    public void The_loft_goes_through_its_own_sections_and_nowhere_beyond()
    {
        var backs = Stations.Select((s, k) => (s.Item1, s.Item2, Of(new RandomBack(new Random(k)).Exact()))).ToArray();
        var surface = Loft(backs);
        foreach (var (_, at, contour) in backs)
        foreach (var p in surface.SectionAt(at)!.Value.Where((_, k) => k % 20 == 0))
            Assert.True(contour.Sample(0.2).Min(q => (q - p).Length) < 0.15);
        Assert.Null(surface.SectionAt(-0.1));
        Assert.Null(surface.TracingAt(440.1));
        Assert.Equal((0.0, 440.0), surface.Range);
    }

    [Fact]
    public void Between_stations_no_width_lies_outside_those_of_its_neighbours()
    {
        var backs = Stations.Select((s, k) => (s.Item1, s.Item2, Circle(150 + 20 * k, 1.4))).ToArray();
        var surface = Loft(backs);
        double Width(double z) => TracingAnalysis.Analyse(surface.TracingAt(z)!).Value("width@60");
        for (var i = 0; i + 1 < backs.Length; i++)
        for (var z = backs[i].Item2 + 10; z < backs[i + 1].Item2; z += 20)
            Assert.InRange(Width(z), Width(backs[i].Item2) - 0.01, Width(backs[i + 1].Item2) + 0.01);
    }

    [Fact]
    public void A_topline_lifts_and_lowers_the_stations()
    {
        var topline = Of(
            Shapes.Topline(
                u => -0.1 * u + 15 * Math.Sin(u / 60),
                marks: [("shoulder", 60), ("behind-shoulder", 162), ("mid-back", 330), ("last-rib", 500)]
            )
        );
        var surface = Loft(topline, [.. Stations.Select(s => (s.Item1, s.Item2, Circle(200)))]);
        double V(double u) => -0.1 * u + 15 * Math.Sin(u / 60);
        Assert.Equal(0, surface.HeightAt(0), 1e-9);
        Assert.Equal(V(162) - V(60), surface.HeightAt(102), 1e-3);
        Assert.Equal(V(246) - V(60), surface.HeightAt(186), 1e-3);
        Assert.Equal(
            surface.HeightAt(270),
            surface.Mesh(10).Vertices.Where(p => Math.Abs(p.Z - 270) < 1 && Math.Abs(p.X) < 1e-6).Select(p => p.Y).First(),
            0.2
        );
        Assert.Equal(Segment(200, 100) / 2 * 440 / 1e6, surface.HalfVolumes()[0].Value!.Value, 1e-4);
    }

    [Fact]
    public void A_volume_is_not_covered_where_a_station_is_missing_or_too_short()
    {
        Assert.Equal("not covered", Loft(("shoulder", 0, Circle(200)), ("mid-back", 300, Circle(200))).HalfVolumes()[0].Why);
        var shallow = Of(Shapes.Circle(200, 301, 0.9) with { });
        Assert.Equal(
            "not covered",
            Loft(("shoulder", 0, Circle(200)), ("mid-back", 200, shallow), ("last-rib", 300, Circle(200))).HalfVolumes()[1].Why
        );
    }

    [Fact]
    public void The_error_of_a_volume_comes_from_its_sections()
    {
        var random = new Random(8);
        double Sd(double noise) =>
            Loft([.. Stations.Select(s => (s.Item1, s.Item2, Of(new RandomBack(new Random(5), 50, 51).Trace(random, 2.5, noise))))])
                .HalfVolumes()[0]
                .Sd!.Value;
        Assert.Equal(0, Sd(0));
        Assert.InRange(Sd(1) / Sd(0.5), 1.4, 2.6);
        var truth = Loft([.. Stations.Select(s => (s.Item1, s.Item2, Of(new RandomBack(new Random(5), 50, 51).Exact())))])
            .HalfVolumes()[0]
            .Value!.Value;
        var held = Enumerable
            .Range(0, 60)
            .Count(_ =>
            {
                var measured = Loft([
                        .. Stations.Select(s => (s.Item1, s.Item2, Of(new RandomBack(new Random(5), 50, 51).Trace(random, 2.5, 1)))),
                    ])
                    .HalfVolumes()[0];
                return Math.Abs(measured.Value!.Value - truth) < 1.96 * measured.Sd!.Value;
            });
        Assert.InRange(held, 52, 60);
    }

    [Fact]
    public void Too_few_stations_or_two_on_one_place_are_no_surface()
    {
        Assert.NotNull(BackSurface.Loft([new("shoulder", 0, Circle(200))]).Fault);
        Assert.NotNull(BackSurface.Loft([new("shoulder", 0, Circle(200)), new("mid-back", 0.5, Circle(200))]).Fault);
        Assert.NotNull(BackSurface.Loft([new("shoulder", 0, Circle(200)), new("mid-back", double.NaN, Circle(200))]).Fault);
        var topline = Of(Shapes.Topline(u => -u / 20, marks: Shapes.Stations));
        Assert.NotNull(BackSurface.Loft([new("shoulder", 0, topline), new("mid-back", 100, topline)]).Fault);
    }

    [Fact]
    [Trait("source", "closed form: distance between circles that touch")]
    public void The_change_between_two_cylinders_is_the_distance_to_the_earlier_axis()
    {
        BackSurface Cylinder(double r) => Loft([.. Stations.Select(s => (s.Item1, s.Item2, Circle(r, 280 / r)))]);
        var map = ChangeMap.Between(Cylinder(200), Cylinder(210), 2)!;
        var mesh = map.Mesh();
        var (changes, checkedCells) = (map.Changes, 0);
        for (var k = 0; k < changes.Length; k++)
        {
            if (double.IsNaN(changes[k]))
                continue;
            var p = mesh.Vertices[k];
            Assert.Equal(Math.Sqrt(p.X * p.X + (p.Y + 200) * (p.Y + 200)) - 200, changes[k], 0.02);
            checkedCells++;
        }
        Assert.True(checkedCells > 0.95 * changes.Length);
        Assert.Null(map.Loss is { Change: < -0.02 } loss ? loss : null);
        Assert.Contains("side", map.Gain!.Words, StringComparison.Ordinal);
        Assert.True(ChangeMap.Between(Cylinder(210), Cylinder(200), 4)!.Gain is null or { Change: < 0.02 });
    }

    [Fact]
    public void A_hollow_behind_the_right_shoulder_is_found_and_named()
    {
        Contour Back(double hollow) =>
            Of(
                Shapes.Circle(200, 601) is var c
                    ? c with
                    {
                        Points =
                        [
                            .. c.Points.Select(p =>
                                p.X > 0 && 200 * Math.Asin(Math.Min(1, p.X / 200)) is var s
                                    ? (1 - hollow * Math.Exp(-Math.Pow((s - 110) / 25, 2)) / 200) * (p + new Point(0, 200))
                                        - new Point(0, 200)
                                    : p
                            ),
                        ],
                    }
                    : null!
            );
        BackSurface Horse(double hollow) =>
            Loft([.. Stations.Select(s => (s.Item1, s.Item2, Back(s.Item1 == "behind-shoulder" ? hollow : 0)))]);
        var map = ChangeMap.Between(Horse(0), Horse(9), 4)!;
        Assert.Equal(-9, map.Loss!.Change, 0.1);
        Assert.Equal("right side, 35 mm below the midline, at `behind-shoulder`", map.Loss.Words);
        Assert.Equal((Side?)Side.Right, map.Loss.Side);
        var grown = ChangeMap.Between(Horse(9), Horse(0), 4)!;
        Assert.Equal(9, grown.Gain!.Change, 0.3);
        Assert.Contains("right side", grown.Gain.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Places_are_named_by_side_depth_and_station()
    {
        var sections = Loft([.. Stations.Select(s => (s.Item1, s.Item2, Circle(200)))]).Sections;
        Assert.Equal(
            "left side, 60 mm below the midline, between `behind-shoulder` and `mid-back`",
            PlaceInWords.Describe(new(-80, -61, 190), 61, sections).Words
        );
        Assert.Equal("on the midline, at `last-rib`", PlaceInWords.Describe(new(4, 0, 430), 0, sections).Words);
    }

    [Fact]
    public void Nothing_is_compared_where_a_side_was_not_traced()
    {
        var gap = Of(Shapes.Circle(200, 601) is var c ? c with { Points = [.. c.Points.Where(p => p.X is < 60 or > 125)] } : null!);
        var (whole, holed) = (
            Loft([.. Stations.Select(s => (s.Item1, s.Item2, Circle(200)))]),
            Loft([.. Stations.Select(s => (s.Item1, s.Item2, s.Item1 == "mid-back" ? gap : Circle(200)))])
        );
        foreach (var map in (ChangeMap[])[ChangeMap.Between(whole, holed, 6)!, ChangeMap.Between(holed, whole, 6)!])
        {
            var mesh = map.Mesh();
            Assert.Contains(
                Enumerable.Range(0, mesh.Vertices.Length),
                k => double.IsNaN(map.Changes[k]) && mesh.Vertices[k] is { X: > 70 and < 115, Z: > 150 and < 400 }
            );
            Assert.All(
                Enumerable.Range(0, mesh.Vertices.Length).Where(k => mesh.Vertices[k].X < 0 && mesh.Vertices[k].X > -150),
                k => Assert.False(double.IsNaN(map.Changes[k]))
            );
        }
        Assert.Null(ChangeMap.Between(whole, Loft(("a", 500, Circle(200)), ("b", 600, Circle(200)))));
    }

    [Fact]
    public void A_horse_that_stands_as_before_has_not_changed()
    {
        var backs = Stations.Select((s, k) => (s.Item1, s.Item2, Of(new RandomBack(new Random(k)).Exact()))).ToArray();
        var map = ChangeMap.Between(Loft(backs), Loft(backs), 3)!;
        Assert.All(map.Changes, c => Assert.InRange(Math.Abs(c), 0, 1e-6));
    }
}
