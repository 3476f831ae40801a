using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Tests;

/// <summary>What bears out that one side has lost before a veterinary surgeon is asked.</summary>
public class A_second_sign
{
    static readonly double First = Since_the_last_fit.Day(2025, 3, 1);
    static readonly WatchRules Rules = WatchRules.Default;

    /// <param name="readLeft">Degrees by which the left side is read steeper than it is at the second visit.</param>
    static bool Bears(double leftLost, double bothLost, double readLeft, string? station)
    {
        var series = LeaningBacks.Of(
            [new(First, Read: true), new(First + 90, LeftLost: LeaningVisitAsItWas.Everywhere(leftLost), Narrowed: bothLost, Read: true)],
            Rules,
            (visit, measure, _, _) => visit == 1 && measure == "read-slope-left" ? readLeft : 0
        );
        double[] thresholds = [.. series.Select(s => s.Threshold.At(s.Observations[0].Value))];
        return SecondSign.Bears(new("left", station, 0.9, -12, 3), series, thresholds, First, First + 90, Rules);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("shoulder")]
    public void Readings_bear_out_a_side_that_lost(string? station) => Assert.True(Bears(4, 0, 0, station));

    /// <summary>Each reading errs by a degree and more: two degrees of them on a horse that lost on both sides are no sign.</summary>
    [Theory]
    [InlineData(null)]
    [InlineData("shoulder")]
    public void Readings_say_nothing_of_one_side_where_both_have_lost(string? station) => Assert.False(Bears(0, 5, 3, station));
}
