using System.Globalization;
using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>
/// Standard errors come by the delta method from the posterior of the penalised fit. Two thousand random backs, each traced once with
/// noise, say whether the intervals hold the truth as often as they claim.
/// </summary>
public sealed class StandardErrorTests(ITestOutputHelper output)
{
    private const int Trials = 2000;

    [Fact]
    public void The_95_per_cent_interval_holds_the_truth_in_93_to_97_per_cent_of_2000_tracings()
    {
        var random = new Random(2000);
        var hits = new Dictionary<string, (int Held, int Of, double Squares)>(StringComparer.Ordinal);
        var (trials, refused) = (0, 0);
        while (trials < Trials)
        {
            var back = new RandomBack(random);
            var truth = TracingAnalysis.Analyse(back.Exact());
            var traced = TracingAnalysis.Analyse(back.Trace(random, 1.4 + 3 * random.NextDouble(), 1));
            if (traced.Refused is { } refusal)
            {
                // Points closer than the noise now and then tie a loop longer than jitter is allowed to be.
                Assert.Equal("self-crossing", refusal.Code);
                Assert.True(++refused < 10);
                continue;
            }
            trials++;
            foreach (var (exact, measure) in truth.Measures.Zip(traced.Measures))
            {
                if (exact.Value is not { } wanted || measure.Value is not { } value || (exact.Key == "skew-shape" && wanted < 3))
                    continue;
                var z = (value - wanted) / measure.Sd!.Value;
                var (held, of, squares) = hits.GetValueOrDefault(measure.Key);
                hits[measure.Key] = (held + (Math.Abs(z) < 1.959964 ? 1 : 0), of + 1, squares + z * z);
            }
        }
        foreach (var (key, (held, of, squares)) in hits)
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{key, -20} {100.0 * held / of, 5:0.0} % of {of}, rms of (error / sd) {Math.Sqrt(squares / of):0.00}"
                )
            );
        // Whatever stands in the table is held to it.
        Assert.Equal(
            TracingAnalysis.Analyse(new RandomBack(random).Exact()).Measures.Select(m => m.Key).Order(StringComparer.Ordinal),
            hits.Keys.Order(StringComparer.Ordinal)
        );
        // A measure that reaches far is covered on fewer backs: its share is known less well.
        Assert.All(hits, h => Assert.InRange(100.0 * h.Value.Held / h.Value.Of, 93.0 - Slack(h.Value.Of), 97.0 + Slack(h.Value.Of)));

        static double Slack(int of) => of >= 1500 ? 0 : 100 * (Math.Sqrt(0.95 * 0.05 / of) - Math.Sqrt(0.95 * 0.05 / Trials));
    }

    [Fact]
    public void Tracing_one_back_again_scatters_as_its_standard_errors_say()
    {
        var random = new Random(77);
        var back = new RandomBack(random, 40, 41);
        var answers = Enumerable.Range(0, 300).Select(_ => TracingAnalysis.Analyse(back.Trace(random, 2.5, 1))).ToArray();
        foreach (
            var key in answers[0]
                .Measures.Select(m => m.Key)
                .Where(key => answers.All(a => a.Measures.Single(m => m.Key == key).Value is not null))
        )
        {
            var (values, said) = (
                answers.Select(a => a.Value(key)).ToArray(),
                answers.Average(a => a.Measures.Single(m => m.Key == key).Sd!.Value)
            );
            var scatter = Math.Sqrt(values.Sum(v => Math.Pow(v - values.Average(), 2)) / (values.Length - 1));
            // The posterior also holds the smoothing bias, which does not scatter: it may be wider, hardly narrower.
            Assert.InRange(said / scatter, 0.85, 1.7);
        }
    }

    [Fact]
    public void An_exact_tracing_has_no_error() =>
        Assert.All(TracingAnalysis.Analyse(Shapes.Circle()).Measures, m => Assert.Equal(0, m.Sd));

    [Fact]
    public void Twice_the_points_or_half_the_noise_make_the_errors_smaller()
    {
        double Sd(double spacing, double noise, int seed) =>
            TracingAnalysis
                .Analyse(new RandomBack(new Random(5)).Trace(new Random(seed), spacing, noise))
                .Measures.Single(m => m.Key == "slope-left")
                .Sd!.Value;
        double Mean(double spacing, double noise) => Enumerable.Range(0, 20).Average(seed => Sd(spacing, noise, seed));
        Assert.InRange(Mean(4, 1) / Mean(2, 1), 1.2, 1.7);
        Assert.InRange(Mean(3, 1) / Mean(3, 0.5), 1.6, 2.2);
    }

    [Fact]
    public void Sums_carry_the_correlation_of_their_parts()
    {
        // Both slopes hang on the same M: the error of their difference is not that of their sum.
        var measures = TracingAnalysis
            .Analyse(new RandomBack(new Random(6)).Trace(new Random(6), 2.5, 1))
            .Measures.ToDictionary(m => m.Key, StringComparer.Ordinal);
        double Variance(string key) => Math.Pow(measures[key].Sd!.Value, 2);
        Assert.Equal(2 * (Variance("slope-left") + Variance("slope-right")), Variance("opening") + Variance("skew-slope"), 1e-9);
        Assert.NotEqual(Variance("opening"), Variance("skew-slope"), 1e-6);
    }

    [Fact]
    public void A_mark_is_as_uncertain_as_a_traced_point_and_its_depth_a_little_more()
    {
        var tracing = new RandomBack(new Random(6)).Trace(new Random(6), 2.5, 1.5) with
        {
            Marks = new Dictionary<string, Point>(StringComparer.Ordinal)
            {
                ["muscle-junction-left"] = new(-70, -50),
                ["scar"] = new(60, -40),
                ["sore-right"] = new(-5, -20),
            },
        };
        var answer = TracingAnalysis.Analyse(tracing);
        Assert.Equal(70, answer.Value("mark-lateral@muscle-junction-left"), 1e-9);
        Assert.Equal(60, answer.Value("mark-lateral@scar-right"), 1e-9);
        Assert.Equal(-5, answer.Value("mark-lateral@sore-right"), 1e-9);
        Assert.Equal(
            ("mark-side", "right", 5.0),
            Assert.Single(answer.Flags, f => f.Flag == "mark-side") is var f ? (f.Flag, f.Side, f.Length) : default
        );
        Assert.Equal(1.5, answer.Measures.Single(m => m.Key == "mark-lateral@scar-right").Sd!.Value, 1e-12);
        Assert.InRange(answer.Measures.Single(m => m.Key == "mark-depth@scar-right").Sd!.Value, 1.51, 2.2);
    }
}
