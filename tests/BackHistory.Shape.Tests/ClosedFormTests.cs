using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>Exact curves whose measures are known by formula.</summary>
public sealed class ClosedFormTests
{
    [Fact]
    [Trait("source", "closed form: circle")]
    public void A_circle_measures_as_geometry_says()
    {
        const double r = 200;
        var answer = TracingAnalysis.Analyse(Shapes.Circle(r, points: 401));
        foreach (var depth in (double[])[30, 60, 100, 150])
            Assert.Equal(2 * Math.Sqrt(r * r - (r - depth) * (r - depth)), answer.Value($"width@{depth}"), 1e-3);
        Assert.Equal(r, answer.Value("ridge-radius"), 1e-2);
        // The middle of the arc from 40 to 140 mm lies 90 mm out, and its least squares line is parallel to the tangent there.
        Assert.Equal(90 / r * 180 / Math.PI, answer.Value("slope-left"), 1e-3);
        Assert.Equal(180 - 2 * 90 / r * 180 / Math.PI, answer.Value("opening"), 1e-3);
        double half = Math.Acos((r - 100) / r),
            segment = r * r * (half - Math.Sin(half) * Math.Cos(half)) / 2;
        Assert.Equal(segment / 100, answer.Value("half-area-right@100"), 1e-3);
        const double arc = 150 / r;
        Assert.Equal(r * r * (arc - Math.Sin(arc)) / 2 / 100, answer.Value("fill-left"), 1e-3);
        Assert.Equal(0, answer.Value("skew-shape"), 1e-3);
    }

    [Theory]
    [Trait("source", "checks.md 2.2: half-ellipse widths, CALC")]
    [InlineData(200, 150, 30, 240)]
    [InlineData(200, 150, 60, 320)]
    [InlineData(180, 220, 30, 181.48150646851772)]
    [InlineData(180, 220, 150, 341.2906955118689)]
    public void An_ellipse_is_as_wide_as_its_formula(double halfWidth, double height, int depth, double width)
    {
        // Parameter by angle from the top, a little past the widest place so that depth 150 of the lower one is inside.
        var answer = TracingAnalysis.Analyse(
            Shapes.Section(k => new Point(halfWidth * Math.Sin(1.55 * k), height * (Math.Cos(1.55 * k) - 1)), points: 601)
        );
        Assert.Equal(width, answer.Value($"width@{depth}"), 2e-3);
    }

    [Fact]
    [Trait("source", "closed form: ellipse curvature b²/a at its top")]
    public void The_ridge_of_an_ellipse_reads_a_little_flatter_than_its_top()
    {
        // a²/b is the radius at the top; within 40 mm the ellipse bends more towards its sides.
        var radius = TracingAnalysis
            .Analyse(Shapes.Section(k => new Point(200 * Math.Sin(1.5 * k), 150 * (Math.Cos(1.5 * k) - 1)), points: 601))
            .Value("ridge-radius");
        Assert.InRange(radius, 200.0 * 200 / 150 - 5, 200.0 * 200 / 150 + 5);
    }

    [Fact]
    [Trait("source", "checks.md 2.3: parabola chord 500, sag 40, CALC")]
    public void A_parabola_holds_the_area_of_its_formula()
    {
        // Area under the vertex down to depth 30: two thirds of width times depth (Archimedes); each half has half of it.
        var answer = TracingAnalysis.Analyse(Shapes.Section(k => new Point(250 * k, -40 * k * k), points: 401));
        var width = 500 * Math.Sqrt(30.0 / 40);
        Assert.Equal(width, answer.Value("width@30"), 1e-3);
        var deep = TracingAnalysis.Analyse(Shapes.Section(k => new Point(200 * k, -180 * k * k), points: 401));
        var reach = 200 * Math.Sqrt(100.0 / 180);
        Assert.Equal(2.0 / 3 * reach * 100 / 100, deep.Value("half-area-left@100"), 1e-3);
        Assert.Equal(deep.Value("half-area-left@100"), deep.Value("half-area-right@100"), 1e-6);
    }

    [Fact]
    [Trait("source", "closed form: wedge")]
    public void A_gable_has_the_slopes_widths_and_areas_of_its_triangles()
    {
        var answer = TracingAnalysis.Analyse(Shapes.Gable(left: 55, right: 48, length: 300, points: 1201));
        double Cot(double degrees) => 1 / Math.Tan(degrees * Math.PI / 180);
        Assert.Equal(55, answer.Value("slope-left"), 0.02);
        Assert.Equal(48, answer.Value("slope-right"), 0.02);
        Assert.Equal(77, answer.Value("opening"), 0.03);
        Assert.Equal(-7, answer.Value("skew-slope"), 0.03);
        Assert.Equal(100 * (Cot(55) + Cot(48)), answer.Value("width@100"), 0.05);
        Assert.Equal(0.2, answer.Value("width-ratio"), 1e-3);
        Assert.Equal(100 * 100 * Cot(55) / 2 / 100, answer.Value("half-area-left@100"), 0.05);
        Assert.Equal(200 * (Cot(48) - Cot(55)) / (Cot(48) + Cot(55)), answer.Value("skew-area@100"), 0.05);
        Assert.Equal(0, answer.Value("fill-left"), 0.02);
        // Equal arcs on two straight sides part in proportion to the arc: rms over 0 … 150 is 150/√3 times the chord of the angle between
        // them.
        Assert.Equal(150 / Math.Sqrt(3) * 2 * Math.Sin(3.5 * Math.PI / 180), answer.Value("skew-shape"), 0.03);
    }

    [Fact]
    [Trait("source", "checks.md 2.8: angle from two widths, CALC")]
    public void Sides_that_lose_as_much_height_as_they_gain_width_slope_by_45_degrees()
    {
        var answer = TracingAnalysis.Analyse(Shapes.Gable(left: 45, right: 45, length: 300, points: 1201));
        Assert.Equal(45, answer.Value("slope-left"), 0.02);
        Assert.Equal(90, answer.Value("opening"), 0.03);
        Assert.Equal(60, answer.Value("width@30"), 0.05);
    }

    [Fact]
    public void A_gutter_has_a_negative_ridge_radius_and_a_flat_back_a_straight_one()
    {
        var gutter = TracingAnalysis.Analyse(Shapes.ByInclination(s => s < 50 ? -s / 80 : Math.Min(0.9, -50.0 / 80 + (s - 50) / 40)));
        Assert.Equal(-80, gutter.Value("ridge-radius"), 0.01);
        Assert.True(gutter.Value("width@30") > 150, "the crossings are the outer ones");
        var flat = TracingAnalysis.Analyse(Shapes.Section(k => new Point(250 * k, 0)));
        Assert.Equal("straight", flat.Why("ridge-radius"));
        Assert.Equal("not covered", flat.Why("width@30"));
        Assert.Equal(0, flat.Value("slope-left"), 1e-9);
    }

    [Fact]
    public void A_hollow_side_has_a_negative_fill()
    {
        // An upright circle arc, hollow side out, from the ridge outwards: the segment between chord and arc is missing.
        const double r = 300;
        Point Side(double s) => new(r * (1 - Math.Cos(s / r)), -r * Math.Sin(s / r));
        var answer = TracingAnalysis.Analyse(
            Shapes.Section(k => k < 0 ? Side(-k * 260) with { X = -Side(-k * 260).X } : Side(k * 260), points: 801)
        );
        var angle = 150 / r;
        Assert.Equal(-r * r * (angle - Math.Sin(angle)) / 2 / 100, answer.Value("fill-right"), 0.1);
        Assert.Equal(answer.Value("fill-left"), answer.Value("fill-right"), 1e-6);
    }
}
