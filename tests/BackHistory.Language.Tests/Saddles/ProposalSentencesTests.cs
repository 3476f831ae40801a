using BackHistory.Language.Saddles;
using BackHistory.Language.Visits;
using BackHistory.Shape.Gauges;
using BackHistory.Shape.Quality;

namespace BackHistory.Language.Tests.Saddles;

/// <summary>Shape answers with what the tracings ask; it is said here.</summary>
public sealed class ProposalSentencesTests
{
    private static readonly ReportLanguage German = ReportLanguage.Of("de");

    private static readonly Gauge Degrees = Gauge
        .Create("Bench", "slope", "deg", [new("M", 1, 52), new("MW", 2, 46), new("W", 3, 40.5)])
        .Gauge!;

    [Theory]
    [InlineData("tree-left", -6.0, 0.99, "deg", "The left side of the tree: 6.0 ± 1.0° flatter.")]
    [InlineData("tree-right", 6.0, 0.99, "deg", "The right side of the tree: 6.0 ± 1.0° steeper.")]
    [InlineData("tree", 10.0, 2.0, "mm", "The tree: 10.0 ± 2.0 mm wider.")]
    [InlineData("tree", -10.0, 2.0, "mm", "The tree: 10.0 ± 2.0 mm narrower.")]
    [InlineData("tree-left", -0.5, 1.0, "deg", "The left side of the tree needs no change that the tracings can tell (−0.5 ± 1.0°).")]
    [InlineData("tree", 0.0, 1.0, "mm", "The tree needs no change that the tracings can tell (+0.0 ± 1.0 mm).")]
    [InlineData(
        "panel-balance",
        18.8,
        3.6,
        "mm",
        "The front of the panel needs 19 ± 4 mm more height against the other end to sit as it did."
    )]
    [InlineData(
        "panel-balance",
        -18.8,
        3.6,
        "mm",
        "The rear of the panel needs 19 ± 4 mm more height against the other end to sit as it did."
    )]
    [InlineData("panel-balance", 2.0, 3.6, "mm", "The balance of the panel needs no change that the tracings can tell (+2 ± 4 mm).")]
    public void A_change_is_said_by_what_it_is_of(string of, double change, double sd, string unit, string said)
    {
        var asked = new ProposedChange(of, change, sd, unit, null, null);
        Assert.Equal(said, asked.InWords());
        Assert.NotEqual(said, asked.InWords(German));
    }

    [Fact]
    public void The_marks_of_the_gauge_stand_behind_the_change()
    {
        var asked = new ProposedChange("tree-left", -6, 1, "deg", 1, Degrees.AtPosition(2));
        Assert.Equal("The left side of the tree: 6.0 ± 1.0° flatter, 1.0 marks: to 'MW' exactly.", asked.InWords());
        Assert.Equal("Die linke Seite des Baums: 6,0 ± 1,0° flacher, 1,0 Marken: auf „MW“ genau.", asked.InWords(German));
        var between = asked with { Marks = 1.3, SetTo = Degrees.AtPosition(2.3) };
        Assert.Equal("The left side of the tree: 6.0 ± 1.0° flatter, 1.3 marks: to 'MW' +0.3.", between.InWords());
    }

    [Fact]
    public void The_junction_of_the_muscles_is_said_with_its_change_where_it_was_known_before()
    {
        var first = new ProposedChange("muscle-junction-left", 0, 1, "mm", null, null, new MuscleJunction(62, 55, false));
        Assert.Equal(
            "The left muscle junction lies 62 mm out and 55 mm down from the midline: keep the point of the tree off it.",
            first.InWords()
        );
        var moved = first with { Of = "muscle-junction-right", Change = 5, Junction = new MuscleJunction(62, 55, true) };
        Assert.Equal(
            "The right muscle junction lies 62 mm out and 55 mm down from the midline, 5 ± 1 mm lower than at the baseline: "
                + "keep the point of the tree off it.",
            moved.InWords()
        );
        Assert.Contains("5 ± 1 mm höher", (moved with { Change = -5 }).InWords(German), StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_tracings_cannot_say_is_said_with_its_reason()
    {
        (UnsaidChange, string)[] unsaid =
        [
            (
                new("tree-left", UnsaidReason.NotMeasured, Measure: "slope-left"),
                "The left side of the tree: 'slope-left' is not there both at the baseline and today."
            ),
            (
                new("tree-right", UnsaidReason.OutsideGauge, Gauge: Degrees),
                "The right side of the tree: the gauge 'Bench' reads 40.5 to 52 deg, and the setting lies outside it."
            ),
            (
                new("panel-balance", UnsaidReason.NoTopline),
                "The balance of the panel from front to back: there is no topline both at the baseline and today."
            ),
            (
                new("muscle-junction-left", UnsaidReason.NotMarked),
                "The points of the tree on the left: the junction of the muscles is not marked today."
            ),
        ];
        Assert.Equal(Enum.GetValues<UnsaidReason>().Order(), unsaid.Select(u => u.Item1.Reason).Order());
        Assert.All(unsaid, u => Assert.Equal(u.Item2, u.Item1.InWords()));
        Assert.All(unsaid, u => Assert.NotEqual(u.Item2, u.Item1.InWords(German)));
    }

    [Fact]
    public void A_reading_that_disagrees_is_said_with_both_numbers()
    {
        var slope = ReadingCheck.Compare(new Shape.Measure("slope-left", 41.2, "deg", 0.3, null), 47, 1, 1)!;
        Assert.Equal("The tracing says 41°, the reading 47°: level the sheet again or read again.", slope.InWords());
        var width = ReadingCheck.Compare(new Shape.Measure("m", 8.26, "mm", null, null), 20, 1)!;
        Assert.Contains("8.3 mm", width.InWords(), StringComparison.Ordinal);
        Assert.Contains("8,3 mm", width.InWords(German), StringComparison.Ordinal);
    }
}
