using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>Where a measure is answered, where it is `not covered`: never a guess.</summary>
public sealed class CoverageTests
{
    private static readonly double Slope = 50 * Math.PI / 180;

    /// <summary>A gable of 50° whose flanks are cut where the reader asks.</summary>
    private static TracingAnswer CutAtDepth(double left, double right) =>
        TracingAnalysis.Analyse(CutAtArc(left / Math.Sin(Slope), right / Math.Sin(Slope)));

    private static Tracing CutAtArc(double left, double right) =>
        Shapes.Section([
            .. Enumerable.Range(1, 100).Reverse().Select(k => Flank(-left * k / 100)),
            default,
            .. Enumerable.Range(1, 100).Select(k => Flank(right * k / 100)),
        ]);

    private static Point Flank(double s) => new(s * Math.Cos(Slope), -Math.Abs(s) * Math.Sin(Slope));

    [Theory]
    [InlineData(100.01, true)]
    [InlineData(99.1, true)]
    [InlineData(98.9, false)]
    public void A_depth_missed_by_a_millimetre_is_bridged_and_no_more(double depth, bool covered)
    {
        var answer = CutAtDepth(depth, 160);
        foreach (var key in (string[])["width@100", "half-area-left@100", "skew-area@100"])
            if (covered)
                Assert.True(double.IsFinite(answer.Value(key)));
            else
                Assert.Equal("not covered", answer.Why(key));
        if (covered)
        {
            Assert.Equal(200 / Math.Tan(Slope), answer.Value("width@100"), 0.05);
            Assert.Equal(50 / Math.Tan(Slope), answer.Value("half-area-left@100"), 0.05);
        }
        Assert.True(answer.Value("half-area-right@100") > 0);
        Assert.True(answer.Value("width@60") > 0);
    }

    [Theory]
    [InlineData(12, true)]
    [InlineData(8, false)]
    public void A_bridge_is_at_most_five_millimetres_long(double degrees, bool covered)
    {
        // The flank ends 0.9 mm above depth 30 with the given inclination: 4.3 or 6.5 mm of tangent are missing.
        double end = degrees * Math.PI / 180,
            depth = 29.1;
        var answer = TracingAnalysis.Analyse(
            Shapes.ByInclination(s => s < 40 ? s / 40 * 0.6 : Math.Max(end, 0.6 - (s - 40) / 40 * 0.6), length: ArcTo(depth), step: 0.5)
        );
        if (covered)
            Assert.True(answer.Value("width@30") > 100);
        else
            Assert.Equal("not covered", answer.Why("width@30"));

        double ArcTo(double wanted)
        {
            double s = 0,
                y = 0;
            for (; y < wanted; s += 0.01)
                y += 0.01 * Math.Sin(s < 40 ? s / 40 * 0.6 : Math.Max(end, 0.6 - (s - 40) / 40 * 0.6));
            return s;
        }
    }

    [Theory]
    [InlineData(150.1, true)]
    [InlineData(149.1, true)]
    [InlineData(148.9, false)]
    public void An_arc_missed_by_a_millimetre_is_bridged_and_no_more(double arc, bool covered)
    {
        var answer = TracingAnalysis.Analyse(CutAtArc(arc, 200));
        Assert.Equal(50, answer.Value("slope-left"), 0.02);
        if (covered)
            Assert.Equal(0, answer.Value("fill-left"), 0.02);
        else
            Assert.Equal("not covered", answer.Why("fill-left"));
        Assert.Equal(covered ? null : "not covered", answer.Measures.Single(m => m.Key == "skew-shape").Why);
        Assert.Equal(0, answer.Value("fill-right"), 0.02);
    }

    [Fact]
    public void A_side_too_short_for_its_slope_leaves_opening_and_skew_open()
    {
        var answer = TracingAnalysis.Analyse(CutAtArc(138, 200));
        foreach (var key in (string[])["slope-left", "opening", "skew-slope", "fill-left"])
            Assert.Equal("not covered", answer.Why(key));
        Assert.Equal(50, answer.Value("slope-right"), 0.02);
        Assert.Equal(
            "not covered",
            TracingAnalysis.Analyse(Shapes.Section(k => k < 0 ? Flank(38 * k) : Flank(260 * k))).Why("ridge-radius")
        );
    }

    private static TracingAnswer WithGap(double from, double to, double noise = 0) =>
        TracingAnalysis.Analyse(
            Shapes.Circle(points: 401) is var circle
                ? circle with
                {
                    Noise = noise,
                    Points = [.. circle.Points.Where(p => 200 * Math.Asin(p.X / 200) is var s && (s < from || s > to))],
                }
                : null!
        );

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    public void What_uses_a_gap_over_sixty_millimetres_is_not_covered_and_the_rest_is(double noise)
    {
        var answer = WithGap(44, 108, noise);
        foreach (
            var key in (string[])
                [
                    "slope-right",
                    "opening",
                    "skew-slope",
                    "half-area-right",
                    "half-area-right@100",
                    "skew-area@100",
                    "fill-right",
                    "skew-shape",
                ]
        )
            Assert.Equal("not covered", answer.Why(key));
        foreach (
            var key in (string[])
                [
                    "width@30",
                    "width@60",
                    "width@100",
                    "width@150",
                    "width-ratio",
                    "slope-left",
                    "half-area-left",
                    "fill-left",
                    "ridge-radius",
                ]
        )
            Assert.True(double.IsFinite(answer.Value(key)));
        var gap = Assert.Single(answer.Flags);
        Assert.Equal(("gap", "right"), (gap.Flag, gap.Side));
        Assert.True(gap.From.X < gap.To.X, "from is the end nearer the midline");
        Assert.Equal((gap.To - gap.From).Length, gap.Length, 1e-12);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    public void A_crossing_inside_a_gap_over_sixty_millimetres_is_not_covered(double noise)
    {
        // Depth 100 of this circle lies 209 mm along the arc.
        var answer = WithGap(180, 243, noise);
        Assert.Equal("not covered", answer.Why("width@100"));
        Assert.Equal("not covered", answer.Why("half-area-right@100"));
        Assert.True(answer.Value("width@60") > 0);
        Assert.True(answer.Value("slope-right") > 0);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    public void Nothing_is_covered_when_M_itself_lies_in_a_gap_over_sixty_millimetres(double noise)
    {
        var answer = WithGap(-32, 32, noise);
        Assert.All(answer.Measures, m => Assert.Equal("not covered", m.Why));
        Assert.Contains(answer.Flags, f => f.Flag == "gap");
    }

    [Fact]
    public void A_gap_of_fifty_nine_millimetres_is_flagged_and_bridged_by_the_curve()
    {
        var answer = WithGap(50, 107);
        Assert.Contains(answer.Flags, f => f is { Flag: "gap", Side: "right", Length: > 55 and < 60 });
        Assert.Equal(25.7831, answer.Value("slope-right"), 0.5);
    }

    [Theory]
    [InlineData(24.8, 0)]
    [InlineData(25.2, 20)]
    public void Neighbours_more_than_twenty_five_millimetres_apart_are_a_gap(double spacing, int gaps)
    {
        var answer = TracingAnalysis.Analyse(Shapes.Section(Enumerable.Range(-14, 29).Select(k => new Point(spacing * k, -0.01 * k * k))));
        Assert.Equal(gaps == 0 ? 0 : 28, answer.Flags.Count(f => f.Flag == "gap"));
    }

    [Fact]
    public void The_outermost_crossing_counts_where_a_side_comes_back_over_a_depth()
    {
        // Down to 40 mm, up to 20, down again: depth 30 is crossed three times on each side.
        Point Wave(double s) =>
            new(
                s,
                Math.Abs(s) < 60 ? -40 * Math.Pow(Math.Sin(Math.PI * s / 120), 2)
                    : Math.Abs(s) < 120 ? -30 - 10 * Math.Cos(Math.PI * (Math.Abs(s) - 60) / 60)
                    : -20 - Math.Pow((Math.Abs(s) - 120) / 8, 2)
            );
        var answer = TracingAnalysis.Analyse(Shapes.Section(k => Wave(240 * k), points: 961));
        Assert.Equal(2 * (120 + 8 * Math.Sqrt(10)), answer.Value("width@30"), 0.05);
    }
}
