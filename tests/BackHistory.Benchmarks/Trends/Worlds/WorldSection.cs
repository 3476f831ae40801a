using BackHistory.Shape;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// A cross-section as it truly is: its inclination along the arc, and what lies on it, millimetres along the normal. Angles in degrees
/// below horizontal. No measure stands in it: measures are taken from the contour that it draws.
/// </summary>
/// <param name="Ridge">Arc over which the contour turns from level to its slope.</param>
/// <param name="Power">How suddenly.</param>
/// <param name="Lower">The inclination far down, reached from the arc <paramref name="LowerFrom"/> on.</param>
/// <param name="MuscleLeft">Muscle above what the slope alone gives, at most there; negative = hollow.</param>
/// <param name="Fat">All over but the ridge.</param>
readonly record struct WorldSection(
    double SlopeLeft,
    double SlopeRight,
    double Ridge,
    double Power,
    double Lower,
    double LowerFrom,
    double MuscleLeft = 0,
    double MuscleRight = 0,
    double Fat = 0,
    double SwellLeft = 0,
    double SwellRight = 0
)
{
    const double Step = 2,
        Depth = 170,
        Longest = 440;

    /// <summary>Both sides turned outwards (negative) or inwards by so many degrees.</summary>
    internal WorldSection Turned(double left, double right) => this with { SlopeLeft = SlopeLeft + left, SlopeRight = SlopeRight + right };

    internal WorldSection WithMuscle(double left, double right) =>
        this with
        {
            MuscleLeft = MuscleLeft + left,
            MuscleRight = MuscleRight + right,
        };

    /// <summary>Between this and another, for a place between two stations.</summary>
    internal WorldSection Towards(WorldSection other, double part)
    {
        return new(
            Mix(SlopeLeft, other.SlopeLeft),
            Mix(SlopeRight, other.SlopeRight),
            Mix(Ridge, other.Ridge),
            Mix(Power, other.Power),
            Mix(Lower, other.Lower),
            Mix(LowerFrom, other.LowerFrom),
            Mix(MuscleLeft, other.MuscleLeft),
            Mix(MuscleRight, other.MuscleRight),
            Mix(Fat, other.Fat),
            Mix(SwellLeft, other.SwellLeft),
            Mix(SwellRight, other.SwellRight)
        );

        double Mix(double a, double b) => a + (b - a) * part;
    }

    /// <summary>The contour from the left end to the right, exact, with its midline at the origin.</summary>
    internal List<Point> Contour()
    {
        var left = Side(SlopeLeft, MuscleLeft, SwellLeft);
        var right = Side(SlopeRight, MuscleRight, SwellRight);
        var points = new List<Point>(left.Count + right.Count);
        for (var i = left.Count - 1; i > 0; i--)
            points.Add(new(-left[i].X, left[i].Y));
        points.AddRange(right);
        return points;
    }

    List<Point> Side(double slope, double muscle, double swelling)
    {
        var points = new List<Point> { new(0, 0) };
        double x = 0,
            y = 0;
        for (var s = Step; y > -Depth && s < Longest; s += Step)
        {
            var angle = InclinationAt(s - Step / 2, slope) * Math.PI / 180;
            x += Step * Math.Cos(angle);
            y -= Step * Math.Sin(angle);
            var raised = muscle * Bump(s, 100, 85) + swelling * Math.Exp(-Square((s - 90) / 30)) + Fat * (1 - Math.Exp(-Square(s / 60)));
            points.Add(new(x + raised * Math.Sin(angle), y + raised * Math.Cos(angle)));
        }
        return points;
    }

    double InclinationAt(double s, double slope)
    {
        var angle = slope * (1 - Math.Exp(-Math.Pow(s / Ridge, Power)));
        if (s > LowerFrom)
            angle += (Lower - slope) * (1 - Math.Exp(-Square((s - LowerFrom) / 110)));
        return Math.Clamp(angle, 0, 88);
    }

    /// <summary>A cosine's hump of one at its middle that ends smoothly at both ends.</summary>
    static double Bump(double s, double middle, double half) =>
        Math.Abs(s - middle) >= half ? 0 : Square(Math.Cos(Math.PI / 2 * (s - middle) / half));

    static double Square(double value) => value * value;
}
