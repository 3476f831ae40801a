using BackHistory.Trends.Series;
using CsCheck;

namespace BackHistory.Trends.Tests;

public class The_trend_of_one_measure
{
    /// <summary>Two to fourteen observations over two years, several of one day, some by named hands, each with an sd of its own.</summary>
    static readonly Gen<Observation[]> Series =
        from n in Gen.Int[2, 14]
        from rows in Gen.Select(Gen.Int[0, 40], Gen.Int[0, 3], Gen.Double[-6, 6], Gen.Double[0.4, 3], Gen.Int[0, 3]).Array[n]
        let series = rows.Select(r => new Observation(
                19000 + 18 * r.Item1 + r.Item2 / 4.0,
                45 + r.Item3,
                r.Item4,
                r.Item5 switch
                {
                    1 => "ann",
                    2 => "bob",
                    3 => "cat",
                    _ => null,
                }
            ))
            .ToArray()
        where series.Select(o => Math.Floor(o.Day)).Distinct().Count() > 1
        select series;

    static readonly Gen<NoiseLayers> Noise = Gen.Select(
        Gen.OneOf(Gen.Const(0.0), Gen.Const(0.5), Gen.Const(2.0)),
        Gen.OneOf(Gen.Const(0.0), Gen.Const(1.0), Gen.Const(3.0)),
        (v, p) => new NoiseLayers(v, p)
    );
    static readonly Gen<double> Drift = Gen.OneOf(Gen.Const(0.0), Gen.Const(1e-9), Gen.Const(1e-7), Gen.Const(1e-5), Gen.Const(1e-3));

    static void Close(Uncertain expected, Uncertain? actual, double tolerance)
    {
        Assert.NotNull(actual);
        Assert.Equal(expected.Value, actual.Value, tolerance);
        Assert.Equal(expected.Sd, actual.Sd, tolerance);
    }

    [Fact]
    public void Level_slope_and_change_agree_with_generalised_least_squares_on_random_series() =>
        Gen.Select(Series, Noise, Drift, Gen.Double[-200, 1000], Gen.Double[-200, 1000])
            .Sample(
                (series, noise, q, a, b) =>
                {
                    var (from, to) = (19000 + a, 19000 + b);
                    var dense = new Dense(series, noise, q, from, to);
                    var trend = TrendFit.Fit(series, noise, q);
                    Close(dense.LevelAt(to), trend.Level(to), 2e-5);
                    Close(dense.SlopeAt(to), trend.Slope(to), 1e-6);
                    Close(dense.Change(from, to), trend.Change(from, to), 2e-5);
                },
                iter: 400
            );

    [Fact]
    public void The_likelihood_that_q_is_judged_by_agrees_with_generalised_least_squares_up_to_what_q_does_not_touch() =>
        Gen.Select(Series, Noise)
            .Sample(
                (series, noise) =>
                {
                    // Merged tracings leave out their own scatter: differences between two q are compared.
                    double Of(double q) => DriftSearch.LogLikelihood(VisitData.From(series, noise), q);
                    Assert.Equal(
                        new Dense(series, noise, 1e-5).LogLikelihood - new Dense(series, noise, 1e-7).LogLikelihood,
                        Of(1e-5) - Of(1e-7),
                        1e-5
                    );
                },
                iter: 300
            );

    [Fact]
    public void The_quick_likelihood_is_that_of_the_filter() =>
        Gen.Select(Series, Gen.OneOf(Gen.Const(0.0), Gen.Const(2.0)), Drift)
            .Sample(
                (series, person, q) =>
                {
                    var whole = series.Select(o => o with { Day = Math.Floor(o.Day) }).ToArray();
                    var data = VisitData.From(whole, new(0, person));
                    Assert.True(LineLikelihood.Serves(data));
                    Assert.Equal(DiffuseFilter.Run(data, new(q), []).LogLikelihood, LineLikelihood.LogLikelihood(data, q), 1e-7);
                },
                iter: 300
            );

    [Fact]
    public void The_order_in_which_observations_are_given_changes_no_digit() =>
        Gen.Select(Series, Noise)
            .Sample(
                (series, noise) =>
                {
                    var reversed = series.Reverse().ToArray();
                    Assert.Equal(TrendFit.Fit(series, noise).Q, TrendFit.Fit(reversed, noise).Q);
                    Assert.Equal(TrendFit.Fit(series, noise, 1e-6).Level(19400), TrendFit.Fit(reversed, noise, 1e-6).Level(19400));
                },
                iter: 100
            );

    [Fact]
    public void Moving_the_calendar_or_the_zero_of_the_scale_moves_the_answer_with_it() =>
        Gen.Select(Series, Noise, Gen.Int[-9000, 9000], Gen.Double[-1e5, 1e5])
            .Sample(
                (series, noise, days, offset) =>
                {
                    var moved = series.Select(o => o with { Day = o.Day + days, Value = o.Value + offset }).ToArray();
                    var (here, there) = (TrendFit.Fit(series, noise, 1e-6), TrendFit.Fit(moved, noise, 1e-6));
                    Assert.Equal(here.Level(19500)!.Value + offset, there.Level(19500 + days)!.Value, 1e-6);
                    Assert.Equal(here.Change(19100, 19500)!.Sd, there.Change(19100 + days, 19500 + days)!.Sd, 1e-8);
                },
                iter: 100
            );

    [Fact]
    public void In_other_units_q_and_everything_else_scale() =>
        Gen.Select(Series, Noise)
            .Sample(
                (series, noise) =>
                {
                    var inch = series.Select(o => o with { Value = o.Value / 25.4, Sd = o.Sd / 25.4 }).ToArray();
                    var (mm, inches) = (TrendFit.Fit(series, noise), TrendFit.Fit(inch, new(noise.VisitSd / 25.4, noise.PersonSd / 25.4)));
                    Assert.Equal(1, inches.Q!.Value * 25.4 * 25.4 / mm.Q!.Value, 1e-3);
                    Assert.Equal(mm.Level(19300)!.Value, inches.Level(19300)!.Value * 25.4, 1e-3);
                },
                iter: 100
            );

    [Fact]
    public void One_pair_of_hands_throughout_blurs_the_level_but_not_the_change()
    {
        Observation[] series = [new(0, 30, 1, "ann"), new(60, 31, 1, "ann"), new(130, 33, 1, "ann")];
        var (with, without) = (TrendFit.Fit(series, new(0, 5), 1e-6), TrendFit.Fit(series, NoiseLayers.None, 1e-6));
        Close(without.Change(0, 130)!, with.Change(0, 130), 1e-9);
        Assert.Equal(Math.Sqrt(25 + Math.Pow(without.Level(130)!.Sd, 2)), with.Level(130)!.Sd, 1e-9);
    }

    [Fact]
    public void Each_observation_without_hands_carries_an_offset_of_its_own()
    {
        Observation[] unnamed = [new(0, 30, 1), new(0, 31, 1), new(60, 33, 1)];
        var wider = unnamed.Select(o => o with { Sd = Math.Sqrt(1 + 9) }).ToArray();
        Close(TrendFit.Fit(wider, NoiseLayers.None, 1e-6).Level(30)!, TrendFit.Fit(unnamed, new(0, 3), 1e-6).Level(30), 1e-9);
    }

    [Fact]
    public void Two_tracings_of_one_visit_share_its_offset()
    {
        Observation[] series = [new(0, 30, 1), new(0.2, 31, 1), new(0.3, 32, 1), new(60, 33, 1)];
        Assert.True(TrendFit.Fit(series, new(4, 0), 0).Change(0, 60)!.Sd > TrendFit.Fit(series, NoiseLayers.None, 0).Change(0, 60)!.Sd * 3);
    }

    [Fact]
    public void A_single_day_knows_the_level_of_that_day_and_nothing_else()
    {
        var trend = TrendFit.Fit([new(100.1, 30, 1, "ann"), new(100.7, 32, 1, "ann")], new(2, 1));
        Assert.Equal(31, trend.Level(100)!.Value, 1e-12);
        Assert.Equal(Math.Sqrt(0.5 + 4 + 1), trend.Level(100.99)!.Sd, 1e-12);
        Assert.Null(trend.Level(101));
        Assert.Null(trend.Slope(100));
        Assert.Null(trend.Change(100, 100));
        Assert.Null(trend.Q);
    }

    [Fact]
    public void Without_drift_the_trend_is_the_weighted_line_far_beyond_the_data()
    {
        Observation[] series = [.. Enumerable.Range(0, 6).Select(i => new Observation(20 * i, 3 + 0.25 * 20 * i, 0.5 + i))];
        var trend = TrendFit.Fit(series, NoiseLayers.None, 0);
        foreach (var day in new[] { -40000.0, 0, 55, 100, 40000 })
        {
            Assert.Equal(3 + 0.25 * day, trend.Level(day)!.Value, 1e-9 * (1 + Math.Abs(day)));
            Assert.Equal(0.25, trend.Slope(day)!.Value, 1e-11);
        }
    }

    [Fact]
    public void With_huge_drift_the_trend_goes_through_every_visit()
    {
        Observation[] series = [.. Enumerable.Range(0, 9).Select(i => new Observation(31 * i, 40 + 5 * Math.Sin(i * 2.0), 1))];
        var trend = TrendFit.Fit(series, NoiseLayers.None, 1e9);
        foreach (var o in series)
        {
            Assert.Equal(o.Value, trend.Level(o.Day)!.Value, 1e-6);
            Assert.Equal(1, trend.Level(o.Day)!.Sd, 1e-6);
        }
    }

    [Theory, InlineData(1e-14), InlineData(1e-6), InlineData(1e2)]
    public void Hours_and_decades_between_observations_keep_their_digits(double q)
    {
        Observation[] series =
        [
            new(0, 30, 1),
            new(1 / 24.0, 30.5, 1),
            new(3652.5, 33, 1),
            new(3652.6, 34, 1),
            new(14000, 40, 1),
            new(14000.04, 39, 1),
        ];
        var trend = TrendFit.Fit(series, NoiseLayers.None, q);
        // Relative to what the model says: the dense road loses digits here, the reversed calendar does not.
        var backwards = TrendFit.Fit([.. series.Select(o => o with { Day = 14000.04 - o.Day })], NoiseLayers.None, q);
        foreach (var day in new[] { 0, 0.02, 500, 3652.55, 9000, 14000.04 })
        {
            Assert.Equal(1, trend.Level(day)!.Sd / backwards.Level(14000.04 - day)!.Sd, 1e-7);
            Assert.Equal(trend.Level(day)!.Value, backwards.Level(14000.04 - day)!.Value, 1e-6 * trend.Level(day)!.Sd);
        }
    }

    [Fact]
    public void Five_thousand_observations_are_fitted_and_their_q_is_found()
    {
        var random = new Random(11);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var (level, slope) = (50.0, 0.0);
        const double q = 1e-5;
        var series = new List<Observation>();
        for (var day = 0; day < 5000; day++)
        {
            level += slope + Math.Sqrt(q / 3) * Normal();
            slope += Math.Sqrt(q) * Normal();
            series.Add(new(day, level + Normal(), 1));
        }
        var trend = TrendFit.Fit(series, NoiseLayers.None);
        Assert.InRange(trend.Q!.Value, q / 2, q * 2);
        Assert.InRange(Math.Abs(trend.Level(4999)!.Value - level), 0, 4 * trend.Level(4999)!.Sd);
    }

    [Fact]
    public void An_unmeasured_date_between_two_visits_changes_nothing()
    {
        Observation[] series = [new(0, 30, 1), new(70, 32, 1), new(190, 31, 1)];
        var trend = TrendFit.Fit(series, NoiseLayers.None, 1e-5);
        var beside = DiffuseFilter
            .Run(VisitData.From(series, NoiseLayers.None), new(1e-5), [100.0, 35, 140, 260])
            .EstimateOf([0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0], 1);
        Close(trend.Level(100)!, beside, 1e-10);
    }

    [Fact]
    public void The_estimated_drift_is_where_likelihood_and_prior_together_are_highest() =>
        Series
            .Where(s => s.Select(o => Math.Floor(o.Day)).Distinct().Count() > 2)
            .Sample(
                series =>
                {
                    var data = VisitData.From(series, NoiseLayers.None);
                    var prior = DriftPrior.RuleOfThumb(data.MedianVariance);
                    double Posterior(double logQ) =>
                        DriftSearch.LogLikelihood(data, Math.Exp(logQ)) - Math.Pow(logQ - Math.Log(prior.Median), 2) / 8;
                    var found = Math.Log(TrendFit.Fit(series, NoiseLayers.None).Q!.Value);
                    for (var u = Math.Log(prior.Median) - 12; u < Math.Log(prior.Median) + 12; u += 0.25)
                        Assert.True(Posterior(u) <= Posterior(found) + 1e-6);
                },
                iter: 100
            );

    [Fact]
    public void Two_visits_leave_the_drift_to_the_prior()
    {
        Observation[] series = [new(0, 30, 2), new(60, 35, 2)];
        Assert.Equal(3 * (4 + 9) / Math.Pow(180, 3), TrendFit.Fit(series, new(3, 7)).Q!.Value, 1e-15);
        Assert.Equal(1e-3, TrendFit.Fit(series, new(3, 7), prior: new(1e-3)).Q);
    }

    [Fact]
    public void What_cannot_be_a_series_is_refused()
    {
        Assert.Throws<ArgumentException>(() => TrendFit.Fit([], NoiseLayers.None));
        Assert.Throws<ArgumentException>(() => TrendFit.Fit([new(0, double.NaN, 1)], NoiseLayers.None));
        Assert.Throws<ArgumentException>(() => TrendFit.Fit([new(0, 1, 0)], NoiseLayers.None));
        Assert.Throws<ArgumentException>(() => TrendFit.Fit([new(0, 1, 1)], new(-1, 0)));
        Assert.Throws<ArgumentException>(() => TrendFit.Fit([new(0, 1, 1)], NoiseLayers.None, q: -1));
    }
}
