namespace BackHistory.Shape.Tests;

/// <summary>
/// A random back with known shape: each side is drawn by its inclination as a function of arc length (a Whewell equation), from a ridge
/// of known radius over a hollow or filled flank to the belly, a few degrees different left and right.
/// </summary>
internal sealed class RandomBack
{
    private const double Step = 0.1;

    private readonly List<Point> left,
        right;

    /// <param name="sharpestRidge">smallest ridge radius, mm; 0 makes a crease at the midline</param>
    internal RandomBack(Random random, double sharpestRidge = 12, double broadestRidge = 120)
        : this(random, BackFamily.Middling with { Ridge = (sharpestRidge, broadestRidge) }) { }

    internal RandomBack(Random random, BackFamily family)
    {
        double Between(double a, double b) => a + (b - a) * random.NextDouble();
        RidgeRadius = family.Ridge.From == 0 ? 0 : Math.Exp(Between(Math.Log(family.Ridge.From), Math.Log(family.Ridge.To)));
        var flank = Between(family.Flank.From, family.Flank.To);
        List<Point> Side(double outwards)
        {
            var (end, length) = (flank + Between(-6, 6), Between(200, 290));
            var (hollow, hollowAt, hollowWidth) = (Between(family.Hollow.From, family.Hollow.To), Between(60, 130), Between(30, 70));
            var (belly, bellyAt, bellyWidth) = (Between(0, 20), Between(170, 230), Between(25, 60));
            double Inclination(double s) =>
                end * (RidgeRadius == 0 ? 1 : 1 - Math.Exp(-s * 180 / (RidgeRadius * end * Math.PI)))
                - hollow
                    * (
                        Math.Exp(-Math.Pow((s - hollowAt) / hollowWidth, 2))
                        - Math.Exp(-Math.Pow(hollowAt / hollowWidth, 2)) * Math.Exp(-s / 20)
                    )
                + belly / (1 + Math.Exp(-(s - bellyAt) / bellyWidth));
            var points = new List<Point> { default };
            for (var s = Step / 2; s < length; s += Step)
            {
                var (sin, cos) = Math.SinCos(Inclination(s) * Math.PI / 180);
                points.Add(points[^1] + new Point(outwards * cos * Step, -sin * Step));
            }
            return points;
        }
        (left, right) = (Side(-1), Side(1));
    }

    internal double RidgeRadius { get; }

    /// <summary>The back to a hundredth of a millimetre, without noise: its measures are the truth.</summary>
    internal Tracing Exact() =>
        Shapes.Section(
            [
                .. Enumerable.Range(1, (left.Count - 1) / 5).Reverse().Select(i => left[5 * i]),
                .. Enumerable.Range(0, 1 + (right.Count - 1) / 5).Select(i => right[5 * i]),
            ],
            0
        );

    /// <summary>A tracing with normal noise on each coordinate and steps around a spacing (mm).</summary>
    internal Tracing Trace(Random random, double spacing, double noise, Steps steps = Steps.Uneven)
    {
        var points = new List<Point>();
        for (var s = -(left.Count - 1) * Step; s < (right.Count - 1) * Step; s += spacing * Next())
            points.Add(At(s) + new Point(noise * Normal(random), noise * Normal(random)));
        return Shapes.Section(points, noise);

        double Next() =>
            steps switch
            {
                Steps.Even => 1,
                Steps.Uneven => 0.6 + 0.8 * random.NextDouble(),
                _ => 0.2 - 0.8 * Math.Log(1 - random.NextDouble()),
            };
    }

    private Point At(double s)
    {
        var (side, place) = (s < 0 ? left : right, Math.Abs(s) / Step);
        var i = Math.Min((int)place, side.Count - 2);
        return side[i] + (place - i) * (side[i + 1] - side[i]);
    }

    /// <summary>A standard normal number (Box &amp; Muller 1958).</summary>
    internal static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
