using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

public class Repeats_of_the_hand
{
    static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Horses measured twice within a week by two people, two tracings each.</summary>
    static List<RepeatedVisit> Study(int horses, double trace, double visit, double person, int seed)
    {
        var random = new Random(seed);
        var visits = new List<RepeatedVisit>();
        for (var h = 0; h < horses; h++)
        {
            var back = 45 + 5 * Normal(random);
            foreach (var by in new[] { "ann", "bob" })
            {
                var hand = person * Normal(random);
                for (var d = 0; d < 2; d++)
                {
                    var day = visit * Normal(random);
                    visits.Add(
                        new(
                            $"horse {h}",
                            3 * d,
                            by,
                            [back + hand + day + trace * Normal(random), back + hand + day + trace * Normal(random)]
                        )
                    );
                }
            }
        }
        return visits;
    }

    [Fact]
    public void Four_hundred_horses_give_back_the_three_layers_they_were_made_with()
    {
        var study = NoiseStudy.From(Study(400, trace: 1, visit: 1.5, person: 2, seed: 3));
        Assert.Equal(1, study.Trace!.Sd, 0.05);
        Assert.Equal(1.5, study.Visit!.Sd, 0.12);
        // The mean of two visits by each pair of hands is what the person layer is seen through.
        Assert.Equal(2, study.Person!.Sd, 0.25);
        Assert.Equal(
            1.96 * Math.Sqrt(2 * (study.Visit.Sd * study.Visit.Sd + study.Trace.Sd * study.Trace.Sd)),
            study.MinimalDetectable()!.Value,
            1e-12
        );
    }

    [Fact]
    public void Visits_months_apart_are_no_repeats() =>
        Assert.Null(NoiseStudy.From([new("a", 0, "ann", [30, 31]), new("a", 60, "ann", [35, 36])]).Visit);

    [Fact]
    public void A_layer_that_the_table_cannot_show_is_null()
    {
        var study = NoiseStudy.From([new("a", 0, "ann", [30]), new("b", 0, "ann", [40])]);
        Assert.Null(study.Trace);
        Assert.Null(study.Visit);
        Assert.Null(study.Person);
        Assert.Null(study.MinimalDetectable());
    }

    [Fact]
    public void Visits_that_differ_less_than_their_tracings_explain_have_no_layer_of_their_own() =>
        Assert.Equal(0, NoiseStudy.From([new("a", 0, "ann", [30, 40]), new("a", 3, "ann", [35, 35])]).Visit!.Sd);

    static readonly NoiseRule Rule = new("slope-left", 1, 1.5, 1.5);

    [Fact]
    public void Without_ten_degrees_of_freedom_the_rule_of_thumb_stands()
    {
        var use = NoiseSources.Choose(new(new(3, 9), null, null), null, Rule, 45);
        Assert.Equal((1.0, NoiseSource.RuleOfThumb), (use.TraceSd, use.TraceFrom));
        Assert.Equal(new NoiseLayers(1.5, 1.5), use.Layers);
    }

    [Fact]
    public void The_practices_pool_stands_before_the_rule_and_ones_own_hand_is_drawn_towards_the_pool()
    {
        var use = NoiseSources.Choose(new(new(3, 30), null, null), new(new(2, 100), new(2.5, 12), new(0.5, 20)), Rule, 45);
        Assert.Equal(NoiseSource.Own, use.TraceFrom);
        Assert.Equal(Math.Sqrt((30 * 9 + 10 * 4) / 40.0), use.TraceSd, 1e-12);
        Assert.Equal((2.5, NoiseSource.Pool), (use.VisitSd, use.VisitFrom));
        Assert.Equal((0.5, NoiseSource.Pool), (use.PersonSd, use.PersonFrom));
    }

    [Fact]
    public void Rules_in_per_cent_scale_with_the_value()
    {
        var (trace, layers) = new NoiseRule("half-area-left", 2, 3, 3, Percent: true).At(-50);
        Assert.Equal((1.0, 1.5), (trace, layers.VisitSd));
    }

    [Fact]
    public void A_threshold_below_the_hand_is_told_in_words()
    {
        Assert.Equal(
            "The limit of 2.0° on the slope of the left side is below what two visits can tell apart (3.4°): by itself it measures the "
                + "hand.",
            StudySentences.ThresholdAgainst("slope-left", "deg", 2, 3.4)
        );
        Assert.Contains("your hand can see", StudySentences.ThresholdAgainst("slope-left", "deg", 4, 3.4), StringComparison.Ordinal);
    }
}
