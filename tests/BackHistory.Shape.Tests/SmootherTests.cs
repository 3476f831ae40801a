using BackHistory.Shape.Analysis;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Tests;

/// <summary>What the smoothed curve may and may not do.</summary>
public sealed class SmootherTests
{
    [Fact]
    public void Exact_points_lie_on_the_curve()
    {
        var tracing = new RandomBack(new Random(2)).Trace(new Random(2), 3, 0);
        var contour = TracingAnalysis.Analyse(tracing).Contour!;
        Assert.Equal(0, contour.Residual);
        var arcs = contour.Traced.Select(p => p).ToArray();
        Assert.All(arcs, p => Assert.True(contour.Sample(0.05).Min(q => Math.Abs(q.X - p.X) + Math.Abs(q.Y - p.Y)) < 0.06));
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(1)]
    [InlineData(3)]
    public void The_residual_is_the_noise_across_the_curve(double noise)
    {
        var random = new Random(9);
        var residuals = Enumerable
            .Range(0, 20)
            .Select(_ => TracingAnalysis.Analyse(new RandomBack(random).Trace(random, Math.Max(2, 2.5 * noise), noise)))
            .Select(a => (a.Contour!.Residual, Expected: noise * Math.Sqrt(1 - a.Contour.EffectiveParameters / a.Contour.Traced.Length)));
        Assert.InRange(residuals.Average(r => r.Residual / r.Expected), 0.93, 1.07);
    }

    [Fact]
    public void Little_noise_hardly_moves_the_curve_from_its_points()
    {
        var exact = new RandomBack(new Random(12)).Trace(new Random(1), 2, 0);
        var (interpolated, smoothed) = (TracingAnalysis.Analyse(exact), TracingAnalysis.Analyse(exact with { Noise = 0.01 }));
        foreach (
            var (a, b) in interpolated
                .Measures.Zip(smoothed.Measures)
                .Where(m => m.First.Value is not null && m.First.Key != "ridge-radius")
        )
            Assert.Equal(a.Value!.Value, b.Value!.Value, 0.05);
    }

    [Theory]
    [InlineData(double.Epsilon)]
    [InlineData(1e-320)]
    [InlineData(1e-160)]
    [InlineData(1e-9)]
    public void Noise_below_every_instrument_is_none(double noise)
    {
        var exact = new RandomBack(new Random(12)).Trace(new Random(1), 2, 0);
        var (said, none) = (TracingAnalysis.Analyse(exact with { Noise = noise }), TracingAnalysis.Analyse(exact));
        Assert.NotEmpty(said.Measures);
        Assert.Equal(none.Measures, said.Measures);
    }

    [Theory]
    [InlineData(2e-6)]
    [InlineData(1e-4)]
    public void The_least_noise_that_is_smoothed_gives_numbers(double noise)
    {
        foreach (var seed in Enumerable.Range(0, 20))
        {
            var tracing = new RandomBack(new Random(seed)).Trace(new Random(seed), 2, 0) with { Noise = noise };
            Assert.All(
                TracingAnalysis.Analyse(tracing).Measures,
                m => Assert.True(double.IsFinite(m.Value ?? 0) && double.IsFinite(m.Sd ?? 0), $"{m}")
            );
        }
    }

    [Fact]
    public void A_straight_noisy_line_stays_straight_to_its_ends()
    {
        var random = new Random(6);
        for (var trial = 0; trial < 50; trial++)
        {
            var tracing = Shapes.Section(
                Enumerable.Range(-80, 161).Select(k => new Point(2.5 * k + RandomBack.Normal(random), RandomBack.Normal(random))),
                1
            );
            var (curve, points) = (TracingAnalysis.Analyse(tracing).Contour!, 0);
            foreach (var p in curve.Sample(2))
            {
                Assert.True(Math.Abs(p.Y) < 2.2, $"{p}");
                points++;
            }
            Assert.True(points > 190);
        }
    }

    [Fact]
    public void The_ends_of_a_noisy_flank_do_not_bend()
    {
        // The last 20 mm of straight flanks: their direction scatters around the flank, without bias and within a few degrees.
        var random = new Random(61);
        var angles = new List<double>();
        for (var trial = 0; trial < 100; trial++)
        {
            var gable = Shapes.Gable(length: 250, points: 201);
            var noisy = gable with
            {
                Points = [.. gable.Points.Select(p => p + new Point(RandomBack.Normal(random), RandomBack.Normal(random)))],
                Noise = 1,
            };
            var contour = TracingAnalysis.Analyse(noisy).Contour!;
            var (from, to) = (contour.PointAtArc(contour.ArcRange.To - 20)!.Value, contour.PointAtArc(contour.ArcRange.To)!.Value);
            angles.Add(Math.Atan2(from.Y - to.Y, to.X - from.X) * 180 / Math.PI);
        }
        Assert.Equal(50, angles.Average(), 0.5);
        Assert.True(Math.Sqrt(angles.Average(a => Math.Pow(a - 50, 2))) < 3);
    }

    [Fact]
    public void Noise_in_which_the_back_drowns_leaves_a_straight_line_or_no_midline()
    {
        var tracing = new RandomBack(new Random(3)).Trace(new Random(3), 3, 0);
        var answer = TracingAnalysis.Analyse(tracing with { Noise = PlausibleSizes.MostNoise });
        Assert.NotNull(answer.Contour);
        Assert.Equal(2, answer.Contour.EffectiveParameters, 0.1);
    }

    [Fact]
    public void Many_points_within_the_noise_are_smoothed_like_few()
    {
        var back = new RandomBack(new Random(40), 40, 60);
        var (few, many) = (
            TracingAnalysis.Analyse(back.Trace(new Random(1), 2, 0.3)),
            TracingAnalysis.Analyse(back.Trace(new Random(1), 0.4, 0.3))
        );
        Assert.Equal(few.Value("slope-left"), many.Value("slope-left"), 0.5);
        Assert.Equal(few.Contour!.ArcRange.To, many.Contour!.ArcRange.To, 1.5);
        Assert.True(many.Measures[0].Sd < few.Measures[0].Sd);
    }
}
