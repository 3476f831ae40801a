using System.Collections.Immutable;
using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>In what every measure is said, and on which side a named mark is told.</summary>
public sealed class UnitAndMarkTests
{
    /// <summary>As the table of measures in method.md, section 3, writes them; 1 = no unit.</summary>
    private static readonly (string Unit, string[] Keys)[] Units =
    [
        (
            "mm",
            [
                "width@30",
                "width@60",
                "width@100",
                "width@150",
                "skew-shape",
                "ridge-radius",
                "topline-drop",
                "panel-radius",
                "bearing-length",
                "mark-lateral@scar-left",
                "mark-depth@scar-left",
            ]
        ),
        (
            "cm2",
            [
                "half-area-left",
                "half-area-right",
                "half-area-left@100",
                "half-area-right@100",
                "half-area-left@150",
                "half-area-right@150",
                "fill-left",
                "fill-right",
            ]
        ),
        (
            "deg",
            [
                "slope-left",
                "slope-right",
                "opening",
                "skew-slope",
                "topline-slope@behind-shoulder-mid-back",
                "topline-slope@behind-shoulder-last-rib",
                "topline-slope@mid-back-last-rib",
            ]
        ),
        ("%", ["skew-area@100", "skew-area@150"]),
        ("1", ["width-ratio", "topline-drop-place"]),
    ];

    private static Tracing Marked(double noise, params (string Name, double X, double Y)[] marks) =>
        Shapes.Circle(200, points: 401, noise: noise) with
        {
            Marks = marks.ToImmutableSortedDictionary(m => m.Name, m => new Point(m.X, m.Y), StringComparer.Ordinal),
        };

    [Fact]
    [Trait("source", "method.md 3")]
    public void Every_measure_is_said_in_its_unit_and_no_measure_without_one()
    {
        var section = TracingAnalysis.Analyse(Marked(0, ("scar", -40, -20))).Measures;
        var topline = TracingAnalysis
            .Analyse(
                Shapes.Topline(u => Math.Pow(u - 300, 2) / 3000, marks: [("behind-shoulder", 162), ("mid-back", 330), ("last-rib", 500)])
            )
            .Measures;

        Assert.Equal(
            Units.SelectMany(u => u.Keys.Select(k => (Key: k, u.Unit))).OrderBy(m => m.Key, StringComparer.Ordinal),
            section.Concat(topline).Select(m => (m.Key, m.Unit)).OrderBy(m => m.Key, StringComparer.Ordinal)
        );
    }

    [Fact]
    [Trait("source", "method.md 3: outwards and down from M")]
    public void A_mark_is_told_outwards_and_down_on_the_side_it_names_or_lies_on()
    {
        var answer = TracingAnalysis.Analyse(
            Marked(
                0,
                ("junction-left", -80, -25),
                ("junction-right", 90, -35),
                ("scar", -40, -20),
                ("sore", 60, -30),
                ("over-left", 5, -1),
                ("over-right", -6, -2),
                ("top", 0, -3)
            )
        );

        Assert.Equal(80, answer.Value("mark-lateral@junction-left"), 1e-6);
        Assert.Equal(25, answer.Value("mark-depth@junction-left"), 1e-6);
        Assert.Equal(90, answer.Value("mark-lateral@junction-right"), 1e-6);
        Assert.Equal(35, answer.Value("mark-depth@junction-right"), 1e-6);
        Assert.Equal(40, answer.Value("mark-lateral@scar-left"), 1e-6);
        Assert.Equal(20, answer.Value("mark-depth@scar-left"), 1e-6);
        Assert.Equal(60, answer.Value("mark-lateral@sore-right"), 1e-6);
        Assert.Equal(30, answer.Value("mark-depth@sore-right"), 1e-6);
        // One that names its side and lies over the midline is that much inwards of it.
        Assert.Equal(-5, answer.Value("mark-lateral@over-left"), 1e-6);
        Assert.Equal(-6, answer.Value("mark-lateral@over-right"), 1e-6);
        Assert.Equal(0, answer.Value("mark-lateral@top-right"), 1e-6);
        Assert.Equal(7, answer.Measures.Count(m => m.Key.StartsWith("mark-depth@", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_mark_is_at_least_as_noisy_as_a_traced_point()
    {
        var answer = TracingAnalysis.Analyse(Marked(1.5, ("scar", -40, -20)));

        foreach (var measure in answer.Measures.Where(m => m.Key.StartsWith("mark-", StringComparison.Ordinal)))
            Assert.InRange(measure.Sd!.Value, 1.5, 1.5 * 1.5);
    }
}
