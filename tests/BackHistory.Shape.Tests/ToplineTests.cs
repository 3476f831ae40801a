using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

public sealed class ToplineTests
{
    private static TracingAnswer Of(Func<double, double> v, params (string, double)[] marks) =>
        TracingAnalysis.Analyse(Shapes.Topline(v, marks: marks.Length > 0 ? marks : Shapes.Stations));

    [Fact]
    [Trait("source", "checks.md 2.4: circular arc chord 500, sagitta 40, CALC")]
    public void A_hollow_back_of_a_circle_has_its_radius_its_sagitta_and_its_arc()
    {
        const double r = 801.25,
            chord = 500,
            sagitta = 40;
        double Hollow(double u) => r - sagitta - Math.Sqrt(r * r - Math.Pow(u - 300, 2));
        var answer = TracingAnalysis.Analyse(Shapes.Topline(Hollow, marks: [("withers", 50), ("behind-shoulder", 50), ("last-rib", 550)]));
        Assert.Equal(r, answer.Value("panel-radius"), 0.02);
        Assert.Equal(508.49011530741654, answer.Value("bearing-length"), 1e-3);
        Assert.Equal(sagitta, answer.Value("topline-drop"), 1e-4);
        Assert.Equal(0.5, answer.Value("topline-drop-place"), 1e-4);
        Assert.Equal(0, answer.Value("topline-slope@behind-shoulder-last-rib"), 1e-6);
        Assert.Equal(chord, 550 - 50.0);
    }

    [Fact]
    public void A_roached_back_has_a_negative_radius_and_no_drop()
    {
        var answer = Of(u => -Math.Pow(u - 250, 2) / 2000, ("withers", 100), ("behind-shoulder", 162), ("last-rib", 500));
        Assert.InRange(answer.Value("panel-radius"), -1100, -1000);
        Assert.Equal(0, answer.Value("topline-drop"));
        Assert.Equal("never below", answer.Why("topline-drop-place"));
    }

    [Fact]
    public void Between_two_marks_at_one_place_there_is_no_slope_and_no_error_without_end()
    {
        (string, double)[] marks = [("withers", 50), ("behind-shoulder", 150), ("mid-back", 150), ("last-rib", 500)];
        var answer = TracingAnalysis.Analyse(Shapes.Topline(u => -0.1 * u, noise: 0.5, marks: marks));
        Assert.Equal("undefined", answer.Why("topline-slope@behind-shoulder-mid-back"));
        Assert.All(answer.Measures, m => Assert.True(double.IsFinite(m.Sd ?? 0), $"{m.Key} ± {m.Sd}"));
    }

    [Fact]
    public void A_straight_back_has_no_radius()
    {
        var answer = Of(u => -0.1 * u);
        Assert.Equal("straight", answer.Why("panel-radius"));
        Assert.Equal(Math.Atan(-0.1) * 180 / Math.PI, answer.Value("topline-slope@shoulder-last-rib"), 1e-9);
        Assert.Equal(0, answer.Value("topline-drop"), 1e-6);
    }

    [Fact]
    public void Slopes_are_given_for_every_pair_of_marks_from_head_to_tail()
    {
        var answer = Of(u => u < 300 ? -u / 10 : -30 + (u - 300) / 5);
        Assert.Equal(
            [
                "shoulder-behind-shoulder",
                "shoulder-mid-back",
                "shoulder-last-rib",
                "behind-shoulder-mid-back",
                "behind-shoulder-last-rib",
                "mid-back-last-rib",
            ],
            answer
                .Measures.Where(m => m.Key.StartsWith("topline-slope@", StringComparison.Ordinal))
                .Select(m => m.Key["topline-slope@".Length..]),
            StringComparer.Ordinal
        );
        Assert.Equal(-Math.Atan(0.1) * 180 / Math.PI, answer.Value("topline-slope@shoulder-behind-shoulder"), 1e-3);
        Assert.Equal(Math.Atan(0.2) * 180 / Math.PI, answer.Value("topline-slope@mid-back-last-rib"), 1e-3);
    }

    /// <summary>Highest at 80, down to the back, a croup higher than the withers behind.</summary>
    private static double Back(double u) => 30 * Math.Exp(-Math.Pow((u - 80) / 60, 2)) + 60 * Math.Exp(-Math.Pow((u - 590) / 80, 2));

    [Fact]
    public void Without_a_withers_mark_the_highest_point_ahead_of_mid_back_serves()
    {
        var (found, marked) = (Of(Back), Of(Back, [.. Shapes.Stations, ("withers", 80.0)]));
        Assert.Equal(marked.Value("topline-drop"), found.Value("topline-drop"), 1e-3);
        Assert.Equal(marked.Value("topline-drop-place"), found.Value("topline-drop-place"), 1e-3);
        Assert.InRange(found.Value("topline-drop"), 20, 40);
    }

    [Fact]
    public void Without_withers_and_mid_back_the_drop_is_not_covered_and_says_why()
    {
        var answer = Of(Back, ("behind-shoulder", 162), ("last-rib", 500));
        Assert.Contains("not covered", answer.Why("topline-drop"), StringComparison.Ordinal);
        Assert.Contains("withers", answer.Why("topline-drop-place"), StringComparison.Ordinal);
        Assert.True(answer.Value("bearing-length") > 338);
    }

    [Fact]
    public void A_topline_with_the_tail_to_the_left_measures_the_same()
    {
        var right = Shapes.Topline(Back, marks: Shapes.Stations) with { Level = new(new(0, 0), new(500, 20)) };
        var (a, b) = (TracingAnalysis.Analyse(right), TracingAnalysis.Analyse(right.With(p => new(-p.X, p.Y)) with { TailLeft = true }));
        Assert.Equal(a.Measures.Select(m => (m.Key, m.Value)), b.Measures.Select(m => (m.Key, m.Value)));
        Assert.Equal(
            Math.Atan2(20, 500) * 180 / Math.PI,
            Of(Back).Value("topline-slope@shoulder-last-rib") - a.Value("topline-slope@shoulder-last-rib"),
            0.5
        );
    }

    [Fact]
    public void A_mark_stands_for_the_point_of_the_topline_at_its_u_and_is_flagged_when_far_off()
    {
        var tracing = Shapes.Topline(Back, marks: Shapes.Stations);
        var moved = tracing with
        {
            Marks = tracing.Marks.ToDictionary(
                m => m.Key,
                m => m.Key == "mid-back" ? m.Value + new Point(0, 16) : m.Value,
                StringComparer.Ordinal
            ),
        };
        var (a, b) = (TracingAnalysis.Analyse(tracing), TracingAnalysis.Analyse(moved));
        Assert.Equal(a.Measures, b.Measures);
        Assert.Empty(a.Flags);
        Assert.Equal(16, Assert.Single(b.Flags, f => f.Flag == "mark-off").Length, 0.05);
    }

    [Theory]
    [InlineData(600.9, true)]
    [InlineData(601.1, false)]
    public void A_mark_a_millimetre_past_the_end_is_bridged_and_no_more(double u, bool covered)
    {
        var answer = Of(v => -v / 20, ("withers", 100), ("behind-shoulder", 162), ("last-rib", u));
        foreach (var key in (string[])["bearing-length", "topline-slope@behind-shoulder-last-rib", "topline-drop", "panel-radius"])
            if (!covered)
                Assert.Equal("not covered", answer.Why(key));
        if (!covered)
            return;
        Assert.Equal((u - 162) * Math.Sqrt(1 + 1 / 400.0), answer.Value("bearing-length"), 1e-6);
        Assert.Equal(-Math.Atan(1 / 20.0) * 180 / Math.PI, answer.Value("topline-slope@behind-shoulder-last-rib"), 1e-9);
    }

    [Fact]
    public void A_gap_over_sixty_millimetres_takes_what_runs_through_it()
    {
        var whole = Shapes.Topline(Back, marks: [.. Shapes.Stations, ("withers", 80)]);
        var answer = TracingAnalysis.Analyse(whole with { Points = [.. whole.Points.Where(p => p.X is < 350 or > 415)] });
        foreach (var key in (string[])["bearing-length", "panel-radius", "topline-drop", "topline-drop-place"])
            Assert.Equal("not covered", answer.Why(key));
        Assert.True(double.IsFinite(answer.Value("topline-slope@mid-back-last-rib")));
        var gap = Assert.Single(answer.Flags);
        Assert.Equal(("gap", (string?)null), (gap.Flag, gap.Side));
        var atMark = TracingAnalysis.Analyse(whole with { Points = [.. whole.Points.Where(p => p.X is < 300 or > 365)] });
        Assert.Equal("not covered", atMark.Why("topline-slope@mid-back-last-rib"));
    }

    [Fact]
    public void Stations_in_the_wrong_order_are_flagged()
    {
        var answer = Of(Back, ("behind-shoulder", 400), ("mid-back", 300), ("last-rib", 500));
        var flag = Assert.Single(answer.Flags);
        Assert.Equal(("marks-order", 100.0), (flag.Flag, Math.Round(flag.Length, 9)));
    }

    [Fact]
    public void The_standard_errors_of_a_topline_hold_in_repeated_tracings()
    {
        var truth = Of(Back);
        var random = new Random(31);
        var hits = truth.Measures.Where(m => m.Value is not null).ToDictionary(m => m.Key, _ => 0, StringComparer.Ordinal);
        const int trials = 400;
        for (var trial = 0; trial < trials; trial++)
        {
            // The marks are placed exactly: their u is not part of the noise.
            var exact = Shapes.Topline(Back, step: 3, noise: 1, marks: Shapes.Stations);
            var traced = TracingAnalysis.Analyse(
                exact with
                {
                    Points = [.. exact.Points.Select(p => p + new Point(RandomBack.Normal(random), RandomBack.Normal(random)))],
                }
            );
            foreach (var measure in traced.Measures)
                if (Math.Abs(measure.Value!.Value - truth.Value(measure.Key)) < 1.96 * measure.Sd!.Value)
                    hits[measure.Key]++;
        }
        Assert.All(hits, h => Assert.InRange(h.Value / (double)trials, 0.90, 0.995));
    }
}
