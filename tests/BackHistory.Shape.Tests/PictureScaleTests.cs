using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>What a picture's scale adds to the standard errors, against pictures that truly lay aslant.</summary>
public sealed class PictureScaleTests
{
    /// <summary>A back whose flanks fall at 45°, traced without noise, in the plane of the paper.</summary>
    private static Tracing Roof(Func<Point, Point> seen) =>
        new()
        {
            Kind = TracingKind.CrossSection,
            Station = "behind-shoulder",
            Noise = 0.2,
            Points = [.. Enumerable.Range(-60, 121).Select(i => seen(new(i * 3.5, -Math.Sqrt(900 + i * 3.5 * (i * 3.5)) + 30)))],
        };

    [Fact]
    public void Two_known_points_on_a_slanted_picture_say_how_little_they_know()
    {
        // Seen 15° from the side: what lies across is shorter by 1 − cos 15°, and the two points, both on the vertical, do not show it.
        var slanted = Roof(p => new(p.X * Math.Cos(15 * Math.PI / 180), p.Y));
        var (truth, seen) = (TracingAnalysis.Analyse(Roof(p => p)), TracingAnalysis.Analyse(slanted));
        var told = new PictureScale(2, null, 150).Widen(slanted, seen);

        foreach (var key in new[] { "width@100", "slope-left", "half-area-right@100" })
        {
            var off = Math.Abs(Value(truth, key) - Value(seen, key));
            Assert.True(off > 4 * Sd(seen, key), $"{key}: the points alone cover {off}, so this says nothing");
            Assert.True(off < 2.5 * Sd(told, key), $"{key} is off by {off}, and says ±{Sd(told, key)}");
        }
    }

    [Theory]
    [InlineData(5, 0.5)]
    [InlineData(8, 2)]
    public void Points_to_spare_that_agree_say_more_than_two_and_those_that_do_not_say_less(int known, double residual)
    {
        var tracing = Roof(p => p);
        var answer = TracingAnalysis.Analyse(tracing);
        double Told(PictureScale scale) => Sd(scale.Widen(tracing, answer), "width@100");

        Assert.True(Told(new(known, residual, 200)) < Told(new(2, null, 200)));
        Assert.True(Told(new(known, 4 * residual, 200)) > 2 * Told(new(known, residual, 200)));
        Assert.True(Told(new(known, residual, 200)) > Sd(answer, "width@100"));
    }

    [Fact]
    public void Nothing_is_moved_but_the_error()
    {
        var tracing = Roof(p => p);
        var answer = TracingAnalysis.Analyse(tracing);
        var told = new PictureScale(2, null, 150).Widen(tracing, answer);
        Assert.Equal(answer.Measures.Select(m => (m.Key, m.Value)), told.Measures.Select(m => (m.Key, m.Value)));
    }

    private static double Value(TracingAnswer answer, string key) => answer.Measures.Single(m => m.Key == key).Value!.Value;

    private static double Sd(TracingAnswer answer, string key) => answer.Measures.Single(m => m.Key == key).Sd!.Value;
}
