using System.Text;
using System.Text.Json;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Quality;
using BackHistory.Shape.Wire;

namespace BackHistory.Shape.Tests;

/// <summary>A measure that says nothing says so: its standard error is past what any hand scatters.</summary>
public sealed class UncertainTests
{
    /// <summary>Points every 8 mm that scatter by 25 mm: no tracing by any hand.</summary>
    private static readonly Tracing Scrawl = new RandomBack(new Random(4)).Trace(new Random(2), 8, 0.5) with { Noise = 25 };

    private static QualityFlag[] UncertainOf(Tracing tracing)
    {
        var answer = TracingAnalysis.Analyse(tracing);
        Assert.Null(answer.Refused);
        return [.. answer.Flags.Where(f => f.Flag == "uncertain")];
    }

    [Fact]
    public void A_measure_whose_error_is_past_what_a_hand_can_do_keeps_its_value_and_is_flagged_at_its_place()
    {
        var answer = TracingAnalysis.Analyse(Scrawl);
        var flag = Assert.Single(answer.Flags, f => f.Measure == "slope-right");
        Assert.Equal(("uncertain", "right"), (flag.Flag, flag.Side));
        Assert.True(answer.Measures.Single(m => m.Key == "slope-right") is { Value: not null, Sd: > 4 });
        Assert.Equal(answer.Contour!.PointAtArc(40)!.Value, flag.From);
        Assert.Equal(answer.Contour.PointAtArc(140)!.Value, flag.To);
        Assert.Equal((flag.To - flag.From).Length, flag.Length);
        Assert.InRange(flag.Length, 90, 100);
    }

    [Theory]
    [InlineData("slope-left", 4)]
    [InlineData("width@100", 10)]
    [InlineData("half-area-left@100", 8)]
    [InlineData("skew-shape", 4)]
    [InlineData("ridge-radius", 40)]
    public void The_bar_is_four_times_what_a_hand_scatters(string key, double sd)
    {
        var contour = TracingAnalysis.Analyse(Shapes.Circle()).Contour!;
        Assert.Empty(Judged(sd));
        Assert.Equal(key, Assert.Single(Judged(1.001 * sd)).Measure);

        List<QualityFlag> Judged(double error)
        {
            var flags = new List<QualityFlag>();
            UncertainMeasures.Judge(
                contour,
                [new(key, 100, "1", error, null), new("unheard-of", 1, "1", 1e9, null), new(key, null, "1", null, "not covered")],
                flags
            );
            return flags;
        }
    }

    [Fact]
    public void An_almost_straight_line_is_judged_by_its_curvature_as_its_radius_means_nothing()
    {
        Assert.Equal(10, HandScatter.SdOf("ridge-radius", 100));
        Assert.Equal(20, HandScatter.SdOf("ridge-radius", -200));
        // From here on a hand keeps 10 % of 1/200 mm: at 2000 mm that is the whole radius.
        Assert.Equal(2000, HandScatter.SdOf("ridge-radius", 2000)!.Value, 1e-9);
        Assert.Null(HandScatter.SdOf("weight", 500));
    }

    [Fact]
    public void Every_measure_has_a_place_on_its_own_side()
    {
        var marks = new Dictionary<string, Point>(StringComparer.Ordinal)
        {
            ["scar"] = new(60, -40),
            ["muscle-junction-left"] = new(-70, -50),
        };
        var section = TracingAnalysis.Analyse(Shapes.Circle() with { Marks = marks });
        var topline = TracingAnalysis.Analyse(Shapes.Topline(u => -20 * Math.Sin(u / 200), marks: Shapes.Stations));
        foreach (var answer in (TracingAnswer[])[section, topline])
        {
            Assert.Equal(answer.Contour == section.Contour ? 25 : 10, answer.Measures.Count);
            foreach (var measure in answer.Measures.Where(m => m.Value is not null))
            {
                Assert.NotNull(HandScatter.SdOf(measure.Key, 1));
                var flags = new List<QualityFlag>();
                UncertainMeasures.Judge(answer.Contour!, [measure with { Sd = 1e9 }], flags);
                var flag = Assert.Single(flags);
                Assert.InRange(flag.Length, 60, 700);
                Assert.Equal(SideOf(measure.Key), flag.Side);
                if (answer.Contour != section.Contour)
                    continue;
                Assert.Equal(flag.Side != "right", flag.From.X < 0 || flag is { Side: "left", From.X: 0 });
                Assert.Equal(flag.Side != "left", flag.To.X > 0);
            }
        }
    }

    private static string? SideOf(string measure) =>
        measure.Contains("-left", StringComparison.Ordinal) ? "left"
        : measure.Contains("-right", StringComparison.Ordinal) ? "right"
        : null;

    [Fact]
    public void The_verb_names_the_measure_that_is_uncertain_and_no_other_flag_has_one()
    {
        var line = Encoding.UTF8.GetString(TracingJson.Write(Scrawl with { Midline = new Point(0, 8) })).Insert(1, "\"id\": 1, ");
        var flags = JsonDocument
            .Parse(MeasureLine.Answer(line, 1).Json)
            .RootElement.GetProperty("flags")
            .EnumerateArray()
            .ToLookup(f => f.GetProperty("flag").GetString());
        var slope = Assert.Single(flags["uncertain"], f => f.GetProperty("measure").GetString() == "slope-left");
        Assert.Equal("left", slope.GetProperty("side").GetString());
        Assert.All(flags["uncertain"], f => Assert.True(f.GetProperty("length").GetDouble() > 0));
        Assert.False(Assert.Single(flags["midline-off"]).TryGetProperty("measure", out _));
    }

    [Fact]
    public void Ordinary_tracings_have_no_uncertain_measure()
    {
        var random = new Random(19);
        for (var trial = 0; trial < 500; trial++)
        {
            var back = new RandomBack(random, BackFamily.All[trial % BackFamily.All.Length]);
            Assert.Empty(UncertainOf(back.Trace(random, 2 + 4 * random.NextDouble(), 1)));
        }
    }

    [Fact]
    public void Ordinary_toplines_have_none_either_however_flat()
    {
        var random = new Random(23);
        for (var trial = 0; trial < 300; trial++)
        {
            var (sag, withers) = (60 * random.NextDouble() - 10, 30 * random.NextDouble());
            double Height(double u) => withers * Math.Exp(-u * u / 9000) - sag * Math.Sin(Math.PI * u / 600);
            var exact = Shapes.Topline(Height, step: 3 + 4 * random.NextDouble(), marks: Shapes.Stations);
            Point Noisy(Point p) => p + new Point(RandomBack.Normal(random), RandomBack.Normal(random));
            Assert.Empty(UncertainOf(exact with { Points = [.. exact.Points.Select(Noisy)], Noise = 1 }));
        }
    }
}
