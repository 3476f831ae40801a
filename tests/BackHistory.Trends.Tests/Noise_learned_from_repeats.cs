using BackHistory.Trends.Repeats;
using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Tests;

public class Noise_learned_from_repeats
{
    static readonly WatchRules Rules = WatchRules.Default;

    static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Two tracings a visit, two visits within a week, by one pair of hands at two stations.</summary>
    static IEnumerable<RepeatedMeasure> Repeats(string measure, int horses, string by, double trace, double visit, double level, int seed)
    {
        var random = new Random(seed);
        for (var h = 0; h < horses; h++)
            foreach (var station in new[] { "shoulder", "mid-back" })
            {
                var back = level * (1 + 0.1 * Normal(random));
                for (var d = 0; d < 2; d++)
                {
                    var day = visit * Normal(random);
                    yield return new(
                        measure,
                        station,
                        "flexible-curve",
                        new($"horse {h}", 3 * d, by, [back + day + trace * Normal(random), back + day + trace * Normal(random)])
                    );
                }
            }
    }

    [Fact]
    public void A_practice_with_hands_steadier_than_the_rule_of_thumb_is_judged_by_its_own()
    {
        var learned = NoiseLearning.Learn([.. Repeats("slope-left", 200, "ann", 0.6, 0.8, 45, 1)], Rules)!;
        var used = (Rules with { Repeats = learned }).NoiseAt("slope-left", "shoulder", "flexible-curve", "ann", 45)!;
        Assert.Equal(NoiseSource.Own, used.TraceFrom);
        Assert.Equal(0.6, used.TraceSd, 0.05);
        Assert.Equal(0.8, used.VisitSd, 0.1);
        // Nobody else measured: what a second pair of hands brings along stays the rule of thumb.
        Assert.Equal(NoiseSource.RuleOfThumb, used.PersonFrom);
        Assert.Equal(Rules.NoiseOf("slope-left")!.PersonSd, used.PersonSd);
    }

    [Fact]
    public void A_new_pair_of_hands_is_judged_by_the_practice_until_it_has_repeats_of_its_own()
    {
        var learned = NoiseLearning.Learn(
            [.. Repeats("slope-left", 100, "ann", 0.6, 0.8, 45, 2), .. Repeats("slope-left", 100, "bob", 2, 0.8, 45, 3)],
            Rules
        )!;
        var rules = Rules with { Repeats = learned };
        var (ann, bob, eve) = (Of("ann"), Of("bob"), Of("eve"));
        Assert.Equal(NoiseSource.Pool, eve.TraceFrom);
        Assert.True(ann.TraceSd < eve.TraceSd && eve.TraceSd < bob.TraceSd, $"{ann.TraceSd} {eve.TraceSd} {bob.TraceSd}");
        Assert.Equal(Math.Sqrt((0.36 + 4) / 2), eve.TraceSd, 0.1);

        NoiseInUse Of(string by) => rules.NoiseAt("slope-left", "shoulder", "flexible-curve", by, 45)!;
    }

    [Fact]
    public void Areas_are_learned_in_per_cent_so_that_a_pony_teaches_for_a_large_horse()
    {
        var learned = NoiseLearning.Learn([.. Repeats("half-area-left@100", 200, "ann", 1.2, 0, 60, 4)], Rules)!;
        var used = (Rules with { Repeats = learned }).NoiseAt("half-area-left@100", null, null, null, 120)!;
        // 1.2 cm² at 60 cm² are 2 %: 2.4 cm² at 120 cm².
        Assert.Equal(2.4, used.TraceSd, 0.2);
    }

    [Fact]
    public void Numbers_typed_twice_do_not_make_a_hand_that_never_errs()
    {
        var copied = Enumerable
            .Range(0, 40)
            .Select(h => new RepeatedMeasure("slope-left", null, "inclinometer", new($"h{h}", 0, "ann", [45, 45])))
            .ToList();
        var used = (Rules with { Repeats = NoiseLearning.Learn(copied, Rules) }).NoiseAt("slope-left", null, "inclinometer", "ann", 45)!;
        Assert.Equal(LearnedNoise.LeastOfRule * Rules.NoiseOf("slope-left")!.TraceSd, used.TraceSd);
    }

    [Fact]
    public void No_layer_is_learned_under_what_a_hand_can_do()
    {
        var copied = Enumerable
            .Range(0, 45)
            .Select(i => new RepeatedMeasure("slope-left", null, "flexible-curve", new("h", 0.01 * i, "ann", [45, 45])))
            .ToList();
        var rule = Rules.NoiseOf("slope-left")!;
        var learned = NoiseLearning.Learn(copied, Rules)!;
        Assert.All(
            learned.Measures,
            m =>
            {
                Assert.Equal(LearnedNoise.LeastOfRule * rule.TraceSd, m.Study.Trace!.Sd);
                Assert.Equal(LearnedNoise.LeastOfRule * rule.VisitSd, m.Study.Visit!.Sd);
            }
        );
    }

    [Fact]
    public void Under_ten_degrees_of_freedom_the_rule_of_thumb_stays_and_the_study_is_kept()
    {
        var few = Enumerable
            .Range(0, 5)
            .Select(h => new RepeatedMeasure("slope-left", null, "inclinometer", new($"h{h}", 0, "ann", [45, 49])))
            .ToList();
        var learned = NoiseLearning.Learn(few, Rules)!;
        Assert.Equal(5, learned.Pool("slope-left")!.Trace!.Df);
        Assert.Equal(
            Rules.NoiseOf("slope-left")!.TraceSd,
            (Rules with { Repeats = learned }).NoiseAt("slope-left", null, "inclinometer", "ann", 45)!.TraceSd
        );
    }

    [Fact]
    public void Nothing_repeated_teaches_nothing() =>
        Assert.Null(
            NoiseLearning.Learn(
                [
                    new("slope-left", null, "inclinometer", new("h", 0, "ann", [45])),
                    new("slope-left", null, "inclinometer", new("h", 90, "ann", [46])),
                ],
                Rules
            )
        );
}
