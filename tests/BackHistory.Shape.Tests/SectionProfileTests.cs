using BackHistory.Shape.Analysis;
using BackHistory.Shape.Deformations;

namespace BackHistory.Shape.Tests;

/// <summary>
/// What a deformation does to a measure, worked out from the measures of a back alone, against the same deformation of the exact contour
/// measured again.
/// </summary>
public sealed class SectionProfileTests
{
    public static TheoryData<double, double> Backs =>
        new()
        {
            { 30, 60 },
            { 38, 70 },
            { 47, 40 },
            { 56, 28 },
        };

    [Theory]
    [MemberData(nameof(Backs))]
    public void Gains_are_those_of_the_exact_contour(double slope, double ridge)
    {
        var measures = Measures(Drawn(slope, slope, ridge, 0, 0, 0));
        var profile = SectionProfile.From(k => measures.GetValueOrDefault(k));
        Assert.NotNull(profile);
        foreach (var key in (string[])["width@100", "slope-left", "slope-right", "half-area-left@100", "half-area-right@100"])
        {
            var told = profile.GainsOf(key);
            Assert.NotNull(told);
            Near(Exact(d => Turned(Drawn(slope, slope, ridge, 0, 0, 0), d)), told.Value.Turn, 0.01);
            // The test turns the flank as one number of its curve, the profile by how far each piece has come down: two ways to say it.
            Near(Exact(d => Drawn(slope - d, slope - d, ridge, 0, 0, 0)), told.Value.FlanksTurn, 0.35);
            Near(Exact(d => Drawn(slope, slope, ridge, d, 0, 0)), told.Value.LeftMuscle.Middle, 0.1);
            Near(Exact(d => Drawn(slope, slope, ridge, 0, d, 0)), told.Value.RightMuscle.Middle, 0.1);
            Near(Exact(d => Drawn(slope, slope, ridge, d, 0, 0, 110)), told.Value.LeftMuscle.Outer, 0.2);
            Near(Exact(d => Drawn(slope, slope, ridge, 0, 0, d)), told.Value.Cover, 0.15);

            double Exact(Func<double, Tracing> deformed) => (Measures(deformed(2))[key]!.Value - Measures(deformed(-2))[key]!.Value) / 4;

            // The slope of a flank under a hump is a small difference of large parts: a twelfth of a degree a millimetre is nothing.
            void Near(double exact, double gain, double within) =>
                Assert.InRange(gain - exact, -within * Math.Abs(exact) - 0.08, within * Math.Abs(exact) + 0.08);
        }
    }

    [Fact]
    public void A_section_of_one_width_draws_nothing() => Assert.Null(SectionProfile.From(key => key == "width@100" ? 200 : null));

    [Fact]
    public void Widths_that_shrink_with_depth_draw_nothing() =>
        Assert.Null(
            SectionProfile.From(key =>
                key == "width@60" ? 260
                : key == "width@100" ? 200
                : null
            )
        );

    [Fact]
    public void What_is_no_measure_of_a_section_has_no_gains() =>
        Assert.Null(
            SectionProfile
                .From(key =>
                    key == "width@60" ? 150
                    : key == "width@100" ? 240
                    : null
                )!
                .GainsOf("weight")
        );

    static Dictionary<string, double?> Measures(Tracing tracing) =>
        TracingAnalysis.Analyse(tracing).Measures.ToDictionary(m => m.Key, m => m.Value, StringComparer.Ordinal);

    static Tracing Drawn(
        double slopeLeft,
        double slopeRight,
        double ridge,
        double muscleLeft,
        double muscleRight,
        double fat,
        double at = 90
    )
    {
        var (l, r) = (Side(slopeLeft, muscleLeft), Side(slopeRight, muscleRight));
        return Shapes.Section([.. l.Skip(1).Reverse().Select(p => new Point(-p.X, p.Y)), .. r]) with { Midline = new Point(0, 0) };

        List<Point> Side(double slope, double muscle)
        {
            var (x, y) = (0.0, 0.0);
            List<Point> points = [new(0, 0)];
            for (var s = 2.0; s < 320; s += 2)
            {
                var angle = slope * (1 - Math.Exp(-Math.Pow((s - 1) / ridge, 1.6)));
                if (s > 150)
                    angle += (78 - slope) * (1 - Math.Exp(-Math.Pow((s - 150) / 110, 2)));
                angle *= Math.PI / 180;
                x += 2 * Math.Cos(angle);
                y -= 2 * Math.Sin(angle);
                var raised =
                    muscle * (Math.Abs(s - at) < 80 ? Math.Pow(Math.Cos(Math.PI / 2 * (s - at) / 80), 2) : 0)
                    + fat * (1 - Math.Exp(-Math.Pow(s / 60, 2)));
                points.Add(new(x + raised * Math.Sin(angle), y + raised * Math.Cos(angle)));
            }
            return points;
        }
    }

    static Tracing Turned(Tracing tracing, double degrees)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return tracing with { Points = [.. tracing.Points.Select(p => new Point(p.X * cos + p.Y * sin, p.Y * cos - p.X * sin))] };
    }
}
