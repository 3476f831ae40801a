using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using NetTopologySuite.Algorithm.Distance;
using NetTopologySuite.Geometries;

namespace BackHistory.Shape.Tests;

public sealed class RigidPlacementTests
{
    private static (Point[] A, Point[] B) Pairs(string file) =>
        (
            TestData.Csv(file).Select(r => new Point(r[^4], r[^3])).ToArray(),
            TestData.Csv(file).Select(r => new Point(r[^2], r[^1])).ToArray()
        );

    [Fact]
    [Trait("source", "scipy and R vegan on a synthetic back pair, checks.md 2.11, CALC")]
    public void A_pair_of_backs_is_laid_on_each_other_as_the_reference_libraries_do()
    {
        var (a, b) = Pairs("backshape_pair_synthetic.csv");
        var placement = RigidPlacement.Fit(b, a);
        Assert.Equal(2.1789432666988424, placement.Rms, 1e-9);
        Assert.Equal(0.3077, Math.Abs(placement.Degrees), 1e-4);
    }

    [Fact]
    [Trait(
        "source",
        "Dryden & Mardia, sooty mangabey landmarks; angle 45.53 published (from memory, medium), 45.52717375 by R shapes (CALC)"
    )]
    public void Two_published_sets_of_landmarks_turn_by_their_published_angle()
    {
        var (juvenile, adult) = Pairs("dryden_mardia_sooty.csv");
        Assert.Equal(45.52717375, Math.Abs(RigidPlacement.Fit(juvenile, adult).Degrees), 1e-6);
    }

    [Fact]
    [Trait("source", "documentation example of scipy.spatial.procrustes, checks.md 2.9")]
    public void A_mirrored_shape_does_not_fit()
    {
        Point[] a = [new(1, 3), new(1, 2), new(1, 1), new(2, 1)],
            b = [new(4, -2), new(4, -4), new(4, -6), new(2, -6)];
        Assert.True(RigidPlacement.Fit(b.Select(p => 0.5 * p).ToArray(), a).Rms > 0.3);
        Assert.Equal(0, RigidPlacement.Fit(b.Select(p => new Point(-p.X / 2, p.Y / 2)).ToArray(), a).Rms, 1e-12);
        Assert.Throws<ArgumentException>(() => RigidPlacement.Fit(a, a[1..]));
    }

    [Fact]
    [Trait("source", "NetTopologySuite: DiscreteHausdorffDistance")]
    public void The_curve_through_exact_points_stays_within_a_twentieth_of_a_millimetre_of_the_true_back()
    {
        for (var seed = 0; seed < 20; seed++)
        {
            var back = new RandomBack(new Random(seed));
            static LineString Line(IEnumerable<Point> points) => new([.. points.Select(p => new Coordinate(p.X, p.Y))]);
            var curve = Line(
                TracingAnalysis.Analyse(back.Trace(new Random(seed), 3, 0)).Contour!.Sample(0.5).Where(p => Math.Abs(p.X) < 90)
            );
            var distance = new DiscreteHausdorffDistance(curve, Line(TracingAnalysis.Analyse(back.Exact()).Contour!.Sample(0.1)))
            {
                DensifyFraction = 0.5,
            };
            Assert.True(distance.OrientedDistance() < 0.05 + 0.05, $"seed {seed}: {distance.OrientedDistance()}");
        }
    }

    [Fact]
    [Trait("source", "NetTopologySuite: area of a polygon")]
    public void Half_areas_and_fill_are_the_areas_of_their_polygons()
    {
        for (var seed = 0; seed < 30; seed++)
        {
            var answer = TracingAnalysis.Analyse(new RandomBack(new Random(seed)).Exact());
            var contour = answer.Contour!;
            foreach (var (side, name, sign) in ((Side, string, int)[])[(Side.Left, "left", -1), (Side.Right, "right", 1)])
            {
                if (contour.CrossingAtDepth(side, 100) is { } crossing)
                {
                    var outline = new List<Point> { default };
                    for (var s = 0.25; contour.PointAtArc(sign * s) is { } p && p.Y > -100; s += 0.25)
                        outline.Add(p);
                    Assert.Equal(Area([.. outline, crossing, new(0, -100)]), answer.Value($"half-area-{name}@100"), 0.02);
                }
                var chord = Enumerable.Range(0, 601).Select(k => contour.PointAtArc(sign * k * 0.25)!.Value);
                Assert.Equal(Math.Abs(Signed([.. chord])), Math.Abs(answer.Value($"fill-{name}")), 0.02);
            }
        }

        static double Area(Point[] points) =>
            new Polygon(new LinearRing([.. points.Append(points[0]).Select(p => new Coordinate(p.X, p.Y))])).Area / 100;
        static double Signed(Point[] points) =>
            NetTopologySuite.Algorithm.Area.OfRingSigned([.. points.Append(points[0]).Select(p => new Coordinate(p.X, p.Y))]) / 100;
    }
}
