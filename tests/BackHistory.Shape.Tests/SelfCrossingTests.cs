using BackHistory.Shape.Analysis;
using BackHistory.Shape.Registration;
using NetTopologySuite.Geometries;

namespace BackHistory.Shape.Tests;

public sealed class SelfCrossingTests
{
    /// <summary>A flat line with a round loop of a given length of line at x = 50.</summary>
    private static Tracing WithLoop(double length, double noise = 0)
    {
        var r = length / (2 * Math.PI);
        IEnumerable<Point> points =
        [
            .. Enumerable.Range(0, 62).Select(k => new Point(-200 + 4 * k, 0)),
            .. Enumerable
                .Range(0, 25)
                .Select(k => new Point(50 + r * Math.Sin(2 * Math.PI * k / 24), r * (1 - Math.Cos(2 * Math.PI * k / 24)))),
            .. Enumerable.Range(1, 37).Select(k => new Point(50 + 4 * k, -1e-3 * k)),
        ];
        return Shapes.Section(points, noise);
    }

    [Theory]
    [InlineData(9.8, 0, false)]
    [InlineData(10.5, 0, true)]
    [InlineData(10.5, 2, false)]
    [InlineData(21, 2, true)]
    [InlineData(60, 0.5, true)]
    public void A_loop_longer_than_ten_millimetres_or_ten_times_the_noise_is_refused(double length, double noise, bool refused) =>
        Assert.Equal(refused ? "self-crossing" : null, TracingAnalysis.Analyse(WithLoop(length, noise)).Refused?.Code);

    [Fact]
    public void The_refusal_says_where() =>
        Assert.Contains("(50, 0)", TracingAnalysis.Analyse(WithLoop(60)).Refused!.Message, StringComparison.Ordinal);

    [Fact]
    public void A_line_drawn_twice_over_itself_is_refused()
    {
        var once = Shapes.Circle().Points;
        Assert.Equal(
            "self-crossing",
            TracingAnalysis.Analyse(Shapes.Section([.. once[..^40], .. once[120..].Reverse(), .. once[130..]])).Refused?.Code
        );
    }

    [Fact]
    [Trait("source", "NetTopologySuite: IsSimple of a line")]
    public void Random_walks_cross_themselves_exactly_when_the_reference_library_says_so()
    {
        var random = new Random(12);
        int crossed = 0,
            simple = 0;
        for (var trial = 0; trial < 600; trial++)
        {
            var n = random.Next(4, 60);
            double[] x = new double[n],
                y = new double[n];
            var heading = 0.0;
            for (var i = 1; i < n; i++)
            {
                heading += (random.NextDouble() - 0.5) * 2.2;
                (x[i], y[i]) = (x[i - 1] + 5 * Math.Cos(heading), y[i - 1] + 5 * Math.Sin(heading));
            }
            var expected = new LineString([.. x.Zip(y, (a, b) => new Coordinate(a, b))]).IsSimple;
            Assert.Equal(expected, SelfCrossing.Find(x, y, 0) is null);
            if (expected)
                simple++;
            else
                crossed++;
        }
        Assert.True(crossed > 100 && simple > 100, $"{crossed} crossed, {simple} simple");
    }

    [Fact]
    public void The_length_of_a_loop_is_that_of_the_line_between_its_two_passes()
    {
        double[] x = [0, 10, 10, 5, 5],
            y = [0, 0, 10, 10, -5];
        var loop = SelfCrossing.Find(x, y, 0)!.Value;
        Assert.Equal(new Point(5, 0), loop.At);
        Assert.Equal(5 + 10 + 5 + 10, loop.Arc, 1e-12);
    }
}
