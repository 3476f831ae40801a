using BackHistory.Trends.Robust;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

public class Published_rank_trends
{
    [Fact, Trait("source", "Sen 1968, J. Am. Statist. Ass. 63:1379")]
    public void Sens_own_example_gives_his_slope_and_93_percent_interval()
    {
        const double z93 = 1.8119106729525978;
        var slope = RobustTrend.TheilSen(TestData.Series("sen1968.csv"), z93)!;
        Assert.Equal(4, slope.PerDay, 1e-12);
        Assert.Equal(26 / 7.0, slope.Low!.Value, 1e-12);
        Assert.Equal(35 / 8.0, slope.High!.Value, 1e-12);
        var test = RobustTrend.MannKendall(TestData.Series("sen1968.csv"))!;
        Assert.Equal(21, test.S);
        Assert.Equal(44.3333, test.Variance, 1e-4);
    }

    [Fact, Trait("source", "NIST StRD Norris; scipy theilslopes (CALC, no publication)")]
    public void The_robust_slope_of_Norris_agrees_with_a_general_library()
    {
        // x in tenths, so that 0.2 and 0.3 are different days: pairs of one day are left out.
        var slope = RobustTrend.TheilSen([
            .. TestData.Series("nist_norris.csv", time: 1, value: 0).Select(o => o with { Day = Math.Round(10 * o.Day) }),
        ])!;
        Assert.Equal(1.0021968365553604, 10 * slope.PerDay, 1e-12);
        Assert.Equal(1.0011153245594469, 10 * slope.Low!.Value, 1e-12);
        Assert.Equal(1.0030534351145037, 10 * slope.High!.Value, 1e-12);
    }

    [Fact, Trait("source", "Gilbert 1987, ch. 16 (data from memory, medium; p by enumeration)")]
    public void Four_rising_values_have_the_exact_chance_of_their_order()
    {
        var test = RobustTrend.MannKendall(TestData.Series((1, 10), (2, 15), (3, 14), (4, 20)))!;
        Assert.Equal(4, test.S);
        Assert.Equal(26 / 3.0, test.Variance, 1e-12);
        // One-sided 4/24 in the book; this room answers two-sided.
        Assert.Equal(2 * 4 / 24.0, test.P!.Value, 1e-12);
    }

    [Fact, Trait("source", "Hollander & Wolfe, ch. 9, cloud seeding (from memory, medium)")]
    public void The_cloud_seeding_ratios_fall()
    {
        var series = TestData.Series("hollander_wolfe_cloud_seeding.csv");
        Assert.Equal(-6, RobustTrend.MannKendall(series)!.S);
        Assert.Equal(-0.05625, RobustTrend.TheilSen(series)!.PerDay, 1e-12);
    }

    [Fact, Trait("source", "R package documentation, PlantGrowth trt1")]
    public void Ten_plant_weights_take_the_normal_approximation()
    {
        var test = RobustTrend.MannKendall(TestData.Series("mk_plantweights10.csv"))!;
        Assert.Equal(5, test.S);
        Assert.Equal(125, test.Variance, 1e-12);
        Assert.Equal(0.7205147871362552, test.P!.Value, 1e-12);
        Assert.Equal(0.04, RobustTrend.TheilSen(TestData.Series("mk_plantweights10.csv"))!.PerDay, 1e-12);
    }

    [Fact, Trait("source", "R datasets Nile (CALC)")]
    public void Ties_of_the_Nile_are_corrected_for()
    {
        var test = RobustTrend.MannKendall(TestData.Series("nile.csv"))!;
        Assert.Equal(-1387, test.S);
        Assert.Equal(112728.33333333333, test.Variance, 1e-9);
        Assert.Equal(2 * Normal.Cdf(-4.128066522844101), test.P!.Value, 1e-15);
        Assert.Equal(-2.6, RobustTrend.TheilSen(TestData.Series("nile.csv"))!.PerDay, 1e-12);
    }

    [Fact]
    public void Exact_chances_of_all_orders_of_six_values_agree_with_enumeration()
    {
        var values = new double[] { 1, 2, 3, 4, 5, 6 };
        var all = Permutations(values).Select(p => RobustTrend.MannKendall([.. p.Select((v, i) => new Observation(i, v, 1))])!).ToList();
        Assert.Equal(720, all.Count);
        foreach (var test in all.DistinctBy(t => t.S))
            Assert.Equal(all.Count(t => Math.Abs(t.S) >= Math.Abs(test.S)) / 720.0, test.P!.Value, 1e-12);
    }

    [Fact]
    public void Slopes_too_many_to_keep_are_ranked_as_if_they_were_sorted()
    {
        var random = new Random(8);
        var points = Enumerable
            .Range(0, 700)
            .Select(i => new Observation(random.Next(0, 3000) + random.NextDouble(), random.Next(-50, 50) / 4.0, 1))
            .OrderBy(o => o.Day)
            .ToArray();
        var sorted = (
            from i in Enumerable.Range(0, 700)
            from j in Enumerable.Range(i + 1, 699 - i)
            where Math.Floor(points[i].Day) != Math.Floor(points[j].Day)
            select (points[j].Value - points[i].Value) / (points[j].Day - points[i].Day)
        )
            .Order()
            .ToArray();
        var order = new SlopeOrder(points);
        Assert.Equal(sorted.Length, order.Count);
        Assert.True(order.Count > 200_000);
        foreach (var rank in new[] { 0, 1, 5000, sorted.Length / 2, sorted.Length - 2, sorted.Length - 1 })
            Assert.Equal(sorted[rank], order.At(rank));
    }

    [Fact]
    public void Two_tracings_of_one_day_are_no_pair()
    {
        var series = TestData.Series((1.2, 10), (1.4, 50), (5, 20), (9, 30), (12, 40));
        // Nine pairs of different days: six rise, three fall; the fifth slope by size is (30 − 10)/(9 − 1.2).
        Assert.Equal(3, RobustTrend.MannKendall(series)!.S);
        Assert.Equal(20 / 7.8, RobustTrend.TheilSen(series)!.PerDay, 1e-12);
    }

    [Fact]
    public void Fewer_than_four_days_give_neither_interval_nor_chance()
    {
        var series = TestData.Series((1, 10), (1.5, 11), (2, 12), (3, 13));
        Assert.Null(RobustTrend.TheilSen(series)!.Low);
        Assert.Null(RobustTrend.MannKendall(series)!.P);
        Assert.Null(RobustTrend.TheilSen(TestData.Series((1.1, 1), (1.9, 2))));
    }

    static IEnumerable<double[]> Permutations(double[] values)
    {
        if (values.Length == 1)
            yield return values;
        else
            foreach (var v in values)
            foreach (var rest in Permutations([.. values.Where(x => x != v)]))
                yield return [v, .. rest];
    }
}
