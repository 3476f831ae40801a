using BackHistory.Shape.Tests.Reference;
using BackHistory.Shape.Tests.Wild;

namespace BackHistory.Shape.Tests;

/// <summary>
/// Thousands of noisy tracings of made-up backs, held against a general smoothing spline and measures that share no code with ours.
/// `ops/bench wild` does the same with a hundred thousand.
/// </summary>
public sealed class WildTests(ITestOutputHelper output)
{
    [Fact]
    [Trait("source", "smoothing spline by generalised cross-validation (Kim & Gu 2004)")]
    public void No_noisy_tracing_of_a_smooth_back_measures_otherwise_than_by_a_general_spline_without_a_reason()
    {
        var run = WildRun.Of(backs: 1000);
        var differences = run.Differences().ToArray();
        var theirs = differences.Count(d => d.TheirsIsFurther);
        output.WriteLine(
            $"{run.Tracings} tracings, {run.Refused} refused, {run.Measures} measures, {run.Uncertain.Count} uncertain, "
                + $"{differences.Length} differ, of these the general spline's is further from the truth in {theirs}"
        );
        Assert.DoesNotContain(differences, d => !d.Explained);
        Assert.Equal((0, 0), (run.Missing, run.Lost));
        Assert.DoesNotContain(run.Uncertain, u => !u.Of.Sparse);
        Assert.InRange(run.Refused, 0, run.Tracings / 40);
        Assert.InRange(run.Measures, 35_000, 13 * run.Tracings);
    }

    [Fact]
    public void The_measures_that_ours_are_held_against_are_right_on_a_circle()
    {
        const double radius = 200,
            degree = Math.PI / 180;
        var measures = PolylineMeasures.Of(Shapes.Circle(radius, points: 2001).Points);
        Assert.Equal(13, measures.Count);
        double Width(double depth) => 2 * Math.Sqrt(radius * radius - (radius - depth) * (radius - depth));
        foreach (var depth in (double[])[30, 60, 100, 150])
            Assert.Equal(Width(depth), measures[$"width@{depth}"], 0.01);
        foreach (var side in (string[])["left", "right"])
        {
            // By symmetry the line through an arc runs like its tangent in the middle, at 90 mm.
            Assert.Equal(90 / radius / degree, measures[$"slope-{side}"], 1e-3);
            Assert.Equal(radius * radius / 2 * (150 / radius - Math.Sin(150 / radius)) / 100, measures[$"fill-{side}"], 1e-3);
            foreach (var depth in (double[])[100, 150])
            {
                var turn = Math.Acos(1 - depth / radius);
                var segment = radius * radius * turn - (radius - depth) * Width(depth) / 2;
                Assert.Equal(segment / 2 / 100, measures[$"half-area-{side}@{depth}"], 1e-2);
            }
        }
        Assert.Equal(0, measures["skew-shape"], 1e-6);
    }

    [Fact]
    public void The_general_spline_leaves_a_hollow_a_hollow_and_smooths_the_noise_away()
    {
        var back = new RandomBack(new Random(4), BackFamily.All[0]);
        var truth = PolylineMeasures.Of(back.Exact().Points);
        var traced = PolylineMeasures.Of(GeneralSpline.Smooth(back.Trace(new Random(5), 2.5, 1).Points));
        foreach (var key in (string[])["slope-left", "slope-right", "fill-left", "fill-right", "skew-shape"])
            Assert.Equal(truth[key], traced[key], 0.8);
    }
}
