using BackHistory.Trends.Repeats;
using MathNet.Numerics.Distributions;

namespace BackHistory.Trends.Tests;

/// <summary>What chance makes of a table of differences in which nothing has changed.</summary>
public sealed class Several_measures_at_once
{
    /// <summary>Quantiles of the standard normal distribution at (1 + 0.95^(1/n))/2, as Python 3.11's statistics.NormalDist gives
    /// them.</summary>
    [Theory]
    [InlineData(1, 1.9599639845)]
    [InlineData(2, 2.2364766446)]
    [InlineData(10, 2.7996252193)]
    [InlineData(37, 3.1976871661)]
    [InlineData(100, 3.4739788692)]
    public void The_bound_is_that_of_so_many_independent_differences(int count, double bound) =>
        Assert.Equal(bound, SeveralAtOnce.Bound(count), 1e-9);

    /// <param name="shared">The share of the variance that all measures of a visit have in common.</param>
    [Theory]
    [InlineData(0, 0.945, 0.955)]
    [InlineData(0.5, 0.95, 0.99)]
    public void Of_tables_in_which_nothing_changed_one_in_twenty_shows_a_change_and_fewer_where_measures_go_together(
        double shared,
        double least,
        double most
    )
    {
        const int Tables = 20_000;
        const int Measures = 37;
        var chance = new Random(37);
        var bound = SeveralAtOnce.Bound(Measures);
        var still = 0;
        for (var table = 0; table < Tables; table++)
        {
            var together = Math.Sqrt(shared) * Normal.Sample(chance, 0, 1);
            var passed = false;
            for (var m = 0; m < Measures; m++)
                passed |= Math.Abs(together + Math.Sqrt(1 - shared) * Normal.Sample(chance, 0, 1)) > bound;
            still += passed ? 0 : 1;
        }
        Assert.InRange(still / (double)Tables, least, most);
    }

    [Fact]
    public void None_at_all_has_no_bound() => Assert.Throws<ArgumentOutOfRangeException>(() => SeveralAtOnce.Bound(0));
}
