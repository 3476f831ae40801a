using BackHistory.Shape.Analysis;
using BackHistory.Shape.Quality;

namespace BackHistory.Shape.Tests;

public sealed class QualityTests
{
    private static readonly Tracing Back = new RandomBack(new Random(4)).Exact();

    private static QualityFlag Only(Tracing tracing, string flag)
    {
        var answer = TracingAnalysis.Analyse(tracing);
        Assert.Null(answer.Refused);
        return Assert.Single(answer.Flags, f => f.Flag == flag);
    }

    [Fact]
    public void A_good_tracing_has_no_flags() => Assert.Empty(TracingAnalysis.Analyse(Back).Flags);

    [Fact]
    public void A_few_in_a_thousand_noisy_tracings_are_flagged_at_most_for_their_mark()
    {
        var random = new Random(17);
        var flags = Enumerable
            .Range(0, 1000)
            .SelectMany(_ => TracingAnalysis.Analyse(new RandomBack(random).Trace(random, 2 + 4 * random.NextDouble(), 1)).Flags)
            .ToArray();
        Assert.All(flags, f => Assert.Equal("midline-off", f.Flag));
        Assert.True(flags.Length < 20, $"{flags.Length} flags");
    }

    [Theory]
    [InlineData(8, 0)]
    [InlineData(-8, 1)]
    public void A_sheet_that_slipped_between_the_halves_leaves_them_apart(double slip, double noise)
    {
        var random = new Random(3);
        var slipped = new RandomBack(new Random(4)).Trace(random, 2, noise).With(p => p.X > 0 ? p + new Point(0, slip) : p) with
        {
            Midline = new Point(0, 0),
        };
        var flag = Only(slipped, "halves-apart");
        Assert.Equal(8, flag.Length, 1.5);
        Assert.Equal((0.0, 0.0), (flag.From.X, flag.To.X));
        Assert.Equal(Math.Sign(slip), Math.Sign(flag.To.Y - flag.From.Y));
    }

    [Fact]
    public void A_tail_that_curls_back_under_the_belly_is_flagged_with_its_side_and_length()
    {
        // A circle of 150 mm on the right goes on to 0.6 rad below its widest place.
        var curled = Shapes.Section(
            k =>
                k < 0
                    ? new Point(200 * Math.Sin(1.3 * k), 200 * (Math.Cos(1.3 * k) - 1))
                    : new Point(150 * Math.Sin(2.17 * k), 150 * (Math.Cos(2.17 * k) - 1)),
            points: 401
        );
        var flag = Only(curled, "end-curl");
        Assert.Equal("right", flag.Side);
        Assert.Equal(150 * (2.17 - Math.PI / 2), flag.Length, 3.0);
        Assert.Equal(150, flag.From.X, 0.1);
        Assert.Equal(150 * Math.Sin(2.17), flag.To.X, 0.1);
    }

    [Fact]
    public void An_end_that_turns_up_again_is_a_curl_too()
    {
        var flag = Only(
            Shapes.ByInclination(s => s < 200 ? Math.Min(0.8, s / 50) : 0.8 - (s - 200) / 40, length: 270) is var both
                ? both with
                {
                    Points = [.. both.Points.Where(p => p.X > -150)],
                }
                : null!,
            "end-curl"
        );
        Assert.Equal("right", flag.Side);
        Assert.True(flag.To.Y - flag.From.Y > 10);
    }

    [Fact]
    public void A_second_pass_of_the_pen_beside_the_first_is_flagged()
    {
        // Out along the right side, back 3 mm above it without touching, and out again another 3 mm higher.
        var out1 = Shapes.Circle().Points.Where(p => p.X < 120).ToArray();
        var back = Shapes.Circle(203).Points.Select(p => p + new Point(0, 3)).Where(p => p.X is > 50 and < 121).Reverse();
        var out2 = Shapes.Circle(206).Points.Select(p => p + new Point(0, 6)).Where(p => p.X > 49);
        var flag = Only(Shapes.Section([.. out1, .. back, .. out2]), "second-pass");
        Assert.Equal("right", flag.Side);
        Assert.True(flag.Length > 100);
        Assert.True((flag.To - flag.From).Length < 7);
    }

    [Fact]
    public void A_reading_that_differs_by_more_than_twice_the_joint_scatter_is_questioned()
    {
        var slope = new Measure("slope-left", 41.2, "deg", 0.3, null);
        var disagreement = ReadingCheck.Compare(slope, 47, readingSd: 1, tracingSd: 1)!;
        Assert.Equal(Math.Sqrt(2.09), disagreement.JointSd, 1e-12);
        Assert.Equal(5.8, disagreement.Difference, 1e-12);
        Assert.Null(ReadingCheck.Compare(slope, 44, readingSd: 1, tracingSd: 1));
        Assert.Null(ReadingCheck.Compare(slope with { Value = null }, 44, readingSd: 1));
    }

    [Theory]
    [InlineData(false, "left")]
    [InlineData(true, "right")]
    public void A_gap_begins_at_the_end_nearer_the_midline(bool mirrored, string side)
    {
        var tracing = Shapes.Circle(points: 401) with
        {
            Points =
            [
                .. Shapes.Circle(points: 401).Points.Where(p => p.X is < -100 or > -65).Select(p => mirrored ? new Point(-p.X, p.Y) : p),
            ],
        };
        var gap = Only(tracing, "gap");
        Assert.Equal(side, gap.Side);
        Assert.Equal(65, Math.Abs(gap.From.X), 2.0);
        Assert.Equal(100, Math.Abs(gap.To.X), 2.0);
    }

    [Fact]
    public void Flags_lie_in_the_frame_of_M()
    {
        // The mark lies 9 mm above the line: M takes its place as the origin, and the mark is now 9 mm up.
        var flag = Only(Back with { Midline = new Point(0, 9) }, "midline-off");
        Assert.Equal(9, flag.From.Y, 1e-6);
        Assert.True(flag.Length is > 3 and <= 9);
        Assert.Equal(flag.Length, (flag.To - flag.From).Length, 1e-12);
    }
}
