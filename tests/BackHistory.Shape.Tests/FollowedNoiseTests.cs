using System.Text;
using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>
/// Points that scatter more than their `noise` says, by chance or because it was put down too small. The curve once went through every
/// one of them, tied loops between them, and measured slopes that no back has.
/// </summary>
public sealed class FollowedNoiseTests
{
    /// <summary>
    /// Slopes left and right by general splines (scipy, λ of least Cp; 1.5° is what other λ make of them), as they came with the fault's
    /// report; the skew of shape by <see cref="Reference.MallowsSmoother"/>.
    /// </summary>
    [Theory]
    [Trait("source", "scipy's smoothing splines")]
    [InlineData(0, 33.5, 32.5, 1.4)]
    [InlineData(1, 30.7, 32.2, 4.7)]
    public void A_noisy_tracing_of_a_smooth_back_measures_as_general_splines_measure_it(int line, double left, double right, double skew)
    {
        var answer = TracingAnalysis.Analyse(Reported(line));
        Assert.Equal(left, answer.Value("slope-left"), 1.5);
        Assert.Equal(right, answer.Value("slope-right"), 1.5);
        Assert.All(answer.Measures.Where(m => m.Unit == "deg"), m => Assert.InRange(m.Sd!.Value, 0, 3));
        Assert.Equal(skew, answer.Value("skew-shape"), 0.5);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void The_noise_may_be_put_down_a_little_more_or_less_without_another_answer(int line)
    {
        var tracing = Reported(line);
        foreach (var key in (string[])["slope-left", "slope-right", "fill-left", "fill-right", "width@60"])
        {
            double ValueAt(double noise) => TracingAnalysis.Analyse(tracing with { Noise = noise }).Value(key);
            var values = Enumerable.Range(0, 41).Select(k => ValueAt(0.6 + 0.01 * k)).ToArray();
            Assert.True(values.Max() - values.Min() < 0.5, $"{key}: {values.Min()} to {values.Max()}");
            Assert.All(values.Zip(values.Skip(1)), v => Assert.Equal(v.First, v.Second, 0.1));
        }
    }

    [Theory]
    [InlineData(1.25)]
    [InlineData(2)]
    [InlineData(4)]
    public void Noise_put_down_too_small_makes_no_loops(double times)
    {
        var random = new Random(83);
        for (var trial = 0; trial < 200; trial++)
        {
            var back = new RandomBack(random, 25);
            var truth = TracingAnalysis.Analyse(back.Exact());
            var traced = back.Trace(random, 2.5 + 3 * random.NextDouble(), 1);
            var answer = TracingAnalysis.Analyse(traced with { Noise = 1 / times });
            if (answer.Refused is { } refused)
            {
                // The scatter itself now and then ties a loop, and less is taken for jitter where less noise is said.
                Assert.Equal("self-crossing", refused.Code);
                continue;
            }
            Assert.Equal(truth.Value("slope-left"), answer.Value("slope-left"), 3.0);
            Assert.Equal(truth.Value("slope-right"), answer.Value("slope-right"), 3.0);
        }
    }

    private static Tracing Reported(int line)
    {
        var text = File.ReadLines(TestData.PathTo("curve-follows-the-noise.jsonl")).ElementAt(line);
        using var document = TracingJson.Open(Encoding.UTF8.GetBytes(text));
        return TracingJson.Parse(document.RootElement, alsoKnown: "id");
    }
}
