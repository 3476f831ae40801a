using BackHistory.Shape.Gauges;
using BackHistory.Shape.Smoothing;
using CsCheck;

namespace BackHistory.Shape.Tests;

public sealed class GaugeTests
{
    private static Gauge Make(string measure = "slope", string unit = "deg", params (string Name, double Position, double Value)[] marks)
    {
        var (gauge, fault) = Gauge.Create("bench", measure, unit, marks.Select(m => new GaugeMark(m.Name, m.Position, m.Value)));
        Assert.Null(fault);
        return gauge!;
    }

    private static readonly Gauge Degrees = Make(marks: [("N", 0, 60), ("M", 1, 52), ("MW", 2, 46), ("W", 3, 42), ("XW", 4, 35)]);

    [Fact]
    public void A_mark_means_its_value_and_a_value_between_lies_between()
    {
        foreach (var mark in Degrees.Marks)
        {
            Assert.Equal(mark.Value, Degrees.AtPosition(mark.Position)!.Value, 1e-12);
            var reading = Degrees.AtValue(mark.Value)!;
            Assert.Equal(mark.Position, reading.Position, 1e-9);
            Assert.Equal((mark, 0.0), (reading.Nearest, Math.Round(reading.Remainder, 9)));
            Assert.Equal(mark.Value, Degrees.AtMark(mark.Name)!.Value);
        }
        var between = Degrees.AtValue(50)!;
        Assert.Equal("M", between.Nearest.Name);
        Assert.InRange(between.RemainderMarks, 0.2, 0.45);
        Assert.Equal(-2, between.Remainder, 1e-12);
        Assert.Null(Degrees.AtMark("4"));
    }

    [Theory]
    [InlineData(34.99)]
    [InlineData(60.01)]
    [InlineData(double.NaN)]
    public void Nothing_is_read_outside_the_table(double value) => Assert.Null(Degrees.AtValue(value));

    [Theory]
    [InlineData(-0.01)]
    [InlineData(4.01)]
    [InlineData(double.NaN)]
    public void No_mark_is_made_up_outside_the_table(double position) => Assert.Null(Degrees.AtPosition(position));

    [Fact]
    public void There_and_back_is_where_one_was_in_any_monotone_table() =>
        Gen.Select(Gen.Double[0.1, 5].Array[2, 8], Gen.Double[0.05, 20].Array[8], Gen.Bool, Gen.Double[0, 1])
            .Sample(
                (steps, rises, falling, share) =>
                {
                    double position = 3,
                        value = 20;
                    var marks = new List<GaugeMark> { new("0", position, value) };
                    for (var k = 0; k < steps.Length; k++)
                        marks.Add(new($"{k + 1}", position += steps[k], value += falling ? -rises[k] : rises[k]));
                    var gauge = Gauge.Create("any", "slope", "deg", marks.AsEnumerable().Reverse()).Gauge!;
                    var at = 3 + share * (position - 3);
                    var there = gauge.AtPosition(at)!;
                    Assert.InRange(there.Value, gauge.Range.Least - 1e-9, gauge.Range.Most + 1e-9);
                    Assert.Equal(there.Value, gauge.AtPosition(gauge.AtValue(there.Value)!.Position)!.Value, 1e-6);
                    Assert.All(gauge.Marks, m => Assert.True(Math.Abs(m.Position - at) >= Math.Abs(there.RemainderMarks) - 1e-12));
                },
                iter: 2000
            );

    [Theory]
    [InlineData("turns round", 40.0, 45.0, 44.0)]
    [InlineData("turns round", 40.0, 40.0, 44.0)]
    [InlineData("no number", 40.0, double.NaN, 44.0)]
    public void A_table_that_turns_round_or_stands_still_is_refused(string word, params double[] values)
    {
        var (gauge, fault) = Gauge.Create("bad", "slope", "deg", values.Select((v, k) => new GaugeMark($"{k}", k, v)));
        Assert.Null(gauge);
        Assert.Contains(word, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_of_one_mark_of_two_on_one_place_or_of_another_unit_is_refused()
    {
        Assert.NotNull(Gauge.Create("bad", "slope", "deg", [new("a", 0, 40)]).Fault);
        Assert.NotNull(Gauge.Create("bad", "slope", "deg", [new("a", 1, 40), new("b", 1, 45)]).Fault);
        Assert.NotNull(Gauge.Create("bad", "slope", "in", [new("a", 1, 40), new("b", 2, 45)]).Fault);
    }

    [Fact]
    [Trait("source", "scipy 1.10.1 PchipInterpolator, checks.md 2.15, CALC")]
    public void Between_marks_the_curve_is_the_published_monotone_cubic()
    {
        double[] x = [0, 1, 2, 3, 4, 5, 6],
            y = [0, 0.5, 2, 1.5, 1, 0.25, 0];
        var slopes = Pchip.Slopes(x, y);
        foreach (var row in TestData.Csv("spline_reference.csv"))
            Assert.Equal(row[3], Pchip.At(x, y, slopes, Pchip.Interval(x, row[0]), row[0]), 1e-12);
    }

    private static SettingEvidence Evidence(
        double left,
        double right,
        double? topline = null,
        (double Lateral, double Depth)? junction = null,
        double sd = 0.7
    ) =>
        new(
            [
                new("slope-left", left, "deg", sd, null),
                new("slope-right", right, "deg", sd, null),
                new("width@100", 200 - left, "mm", 2, null),
                .. junction is { } j
                    ?
                    [
                        new Measure("mark-lateral@muscle-junction-left", j.Lateral, "mm", 1, null),
                        new Measure("mark-depth@muscle-junction-left", j.Depth, "mm", 1, null),
                    ]
                    : Array.Empty<Measure>(),
            ],
            topline is { } t
                ? [new("topline-slope@behind-shoulder-last-rib", t, "deg", 0.4, null), new("bearing-length", 360, "mm", 1, null)]
                : []
        );

    [Fact]
    public void A_side_that_grew_flatter_asks_for_a_wider_setting_in_degrees_and_marks()
    {
        var proposal = SettingProposal.Propose(Evidence(52, 50), Evidence(46, 50.5, 1.0), Degrees);
        var left = proposal.Changes.Single(c => c.Of == "tree-left");
        Assert.Equal(-6, left.Change, 1e-12);
        Assert.Equal(0.7 * Math.Sqrt(2), left.Sd, 1e-12);
        Assert.Equal(1, left.Marks!.Value, 1e-6);
        Assert.Equal("MW", left.SetTo!.Nearest.Name);
        Assert.True(left.IsTold);
        Assert.False(proposal.Changes.Single(c => c.Of == "tree-right").IsTold);
        Assert.Contains(proposal.Unsaid, u => u is { Of: "panel-balance", Reason: UnsaidReason.NoTopline });
        Assert.Equal(2, proposal.Unsaid.Count(u => u.Reason == UnsaidReason.NotMarked));
    }

    [Fact]
    public void The_change_is_counted_from_where_the_tree_stands()
    {
        var proposal = SettingProposal.Propose(Evidence(52, 50), Evidence(46, 50), Degrees, setAt: (2, 2));
        var left = proposal.Changes.Single(c => c.Of == "tree-left");
        Assert.Equal(40, left.SetTo!.Value, 1e-9);
        Assert.Equal(46 - 6, Degrees.AtPosition(2 + left.Marks!.Value)!.Value, 1e-6);
    }

    [Fact]
    public void A_setting_beyond_the_gauge_is_said_to_be_beyond_it()
    {
        var proposal = SettingProposal.Propose(Evidence(40, 40), Evidence(30, 41), Degrees);
        Assert.Null(proposal.Changes.Single(c => c.Of == "tree-left").SetTo);
        Assert.Contains(proposal.Unsaid, u => u.Reason == UnsaidReason.OutsideGauge && u.Gauge!.Range == (35, 60));
        Assert.Equal(-10, proposal.Changes.Single(c => c.Of == "tree-left").Change);
    }

    [Fact]
    public void A_gauge_of_widths_speaks_for_the_whole_tree_and_none_at_all_leaves_degrees()
    {
        var widths = Make("width@100", "mm", ("1", 1, 120), ("2", 2, 140), ("3", 3, 160), ("4", 4, 190));
        var change = Assert.Single(SettingProposal.Propose(Evidence(60, 60), Evidence(50, 50), widths).Changes);
        Assert.Equal(("tree", "mm", 10.0), (change.Of, change.Unit, change.Change));
        Assert.Equal(2, SettingProposal.Propose(Evidence(60, 60), Evidence(50, 50), null).Changes.Count);
    }

    [Fact]
    public void A_back_that_rises_towards_the_tail_asks_for_more_panel_in_front()
    {
        var proposal = SettingProposal.Propose(Evidence(50, 50, -1), Evidence(50, 50, 2, (62, 55)), null);
        var balance = proposal.Changes.Single(c => c.Of == "panel-balance");
        Assert.Equal(360 * 3 * Math.PI / 180, balance.Change, 1e-9);
        var junction = proposal.Changes.Single(c => c.Of == "muscle-junction-left");
        Assert.Equal(new MuscleJunction(62, 55, KnownBefore: false), junction.Junction);
        var moved = SettingProposal.Propose(Evidence(50, 50, junction: (62, 50)), Evidence(50, 50, junction: (62, 55)), null);
        var lower = moved.Changes.Single(c => c.Of == "muscle-junction-left");
        Assert.Equal((5, true), (lower.Change, lower.Junction!.KnownBefore));
    }

    [Fact]
    public void What_is_not_covered_is_not_said()
    {
        var missing = new SettingEvidence([new("slope-left", null, "deg", null, "not covered")], []);
        var proposal = SettingProposal.Propose(missing, Evidence(50, 50), Degrees);
        Assert.Empty(proposal.Changes);
        Assert.Contains(proposal.Unsaid, u => u is { Reason: UnsaidReason.NotMeasured, Measure: "slope-left" });
    }
}
