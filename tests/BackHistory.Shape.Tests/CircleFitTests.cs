using BackHistory.Shape.Measures;

namespace BackHistory.Shape.Tests;

public sealed class CircleFitTests
{
    private static CircleFit Equal(params Point[] points)
    {
        var weights = new double[points.Length];
        Array.Fill(weights, 1.0 / points.Length);
        return CircleFit.Through(points, weights);
    }

    [Fact]
    [Trait("source", "Gander, Golub & Strebel 1994, BIT 34:558-578, six-point example; figures from memory, confidence high")]
    public void The_published_six_points_have_their_published_circle()
    {
        var fit = Equal(new(1, 7), new(2, 6), new(5, 8), new(7, 7), new(9, 5), new(3, 7));
        Assert.Equal(4.7398, fit.Centre.X, 1e-4);
        Assert.Equal(2.9835, fit.Centre.Y, 1e-4);
        Assert.Equal(4.7142, fit.Radius, 1e-4);
    }

    [Theory]
    [InlineData(5, 3.0)]
    [InlineData(80, 0.5)]
    [InlineData(900, 0.2)]
    [InlineData(9999, 0.004)]
    public void Points_of_a_circle_give_it_back(double radius, double halfAngle)
    {
        var points = Enumerable
            .Range(-30, 61)
            .Select(k => new Point(70 + radius * Math.Sin(halfAngle * k / 30), 20 + radius * Math.Cos(halfAngle * k / 30)))
            .ToArray();
        var fit = CircleFit.ThroughUniform(points);
        Assert.Equal(radius, fit.Radius, 1e-5 * radius);
        Assert.Equal(70, fit.Centre.X, 1e-4 * radius);
        Assert.Equal(radius, fit.SignedRadius(positiveBelow: true)!.Value, 1e-5 * radius);
        Assert.Equal(-radius, fit.SignedRadius(positiveBelow: false)!.Value, 1e-5 * radius);
        Assert.Equal(0, fit.MeanSquare, 1e-9);
    }

    [Fact]
    public void A_radius_over_ten_metres_is_straight()
    {
        Point[] Arc(double radius) => [.. Enumerable.Range(-30, 61).Select(k => new Point(2 * k, -4.0 * k * k / (2 * radius)))];
        Assert.NotNull(CircleFit.ThroughUniform(Arc(9_990)).SignedRadius(true));
        Assert.Null(CircleFit.ThroughUniform(Arc(10_020)).SignedRadius(true));
        Assert.Null(CircleFit.ThroughUniform(Arc(double.PositiveInfinity)).SignedRadius(true));
    }

    [Fact]
    public void No_other_circle_nearby_is_closer()
    {
        var random = new Random(5);
        for (var trial = 0; trial < 50; trial++)
        {
            var points = Enumerable
                .Range(0, 21)
                .Select(k => new Point(4 * k + 3 * random.NextDouble(), 30 * Math.Sin(k / 7.0) + 8 * random.NextDouble()))
                .ToArray();
            var fit = CircleFit.ThroughUniform(points);
            var best = MeanSquare(fit.Centre, fit.Radius);
            Assert.Equal(best, fit.MeanSquare, 1e-6 * best);
            for (var k = 0; k < 12; k++)
            {
                var (sin, cos) = Math.SinCos(k * Math.PI / 6);
                foreach (var scale in (double[])[1e-3, 1e-2, 0.1])
                    Assert.True(
                        MeanSquare(fit.Centre + scale * new Point(cos, sin), fit.Radius + scale * Math.Cos(3 * k)) >= best * (1 - 1e-9)
                    );
            }

            double MeanSquare(Point centre, double radius) =>
                points.Select((p, k) => Simpson.Weight(k, points.Length) * Math.Pow((p - centre).Length - radius, 2)).Sum();
        }
    }

    [Fact]
    [Trait("source", "finite differences")]
    public void The_radius_answers_a_moved_sample_as_its_derivatives_say()
    {
        var points = Enumerable.Range(-16, 33).Select(k => new Point(2.5 * k, -Math.Pow(2.5 * k, 2) / 120 + 0.05 * Math.Sin(k))).ToArray();
        var fit = CircleFit.ThroughUniform(points);
        var changes = new Point[points.Length];
        fit.RadiusChanges(points, fit.SignedRadius(true)!.Value, changes);
        for (var k = 0; k < points.Length; k++)
        {
            var moved = points.ToArray();
            moved[k] += new Point(0, 1e-4);
            var change = (CircleFit.ThroughUniform(moved).SignedRadius(true)!.Value - fit.SignedRadius(true)!.Value) / 1e-4;
            Assert.Equal(change, changes[k].Y, 0.02 * changes.Max(c => Math.Abs(c.Y)));
        }
    }
}
