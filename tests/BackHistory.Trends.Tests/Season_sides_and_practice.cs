using BackHistory.Trends.Caseload;
using BackHistory.Trends.Learning;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Tests;

public class Season_sides_and_practice
{
    static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    static Observation[] Visits(int seed, int count, double every, Func<double, double> back, double sd = 1)
    {
        var random = new Random(seed);
        return
        [
            .. Enumerable
                .Range(0, count)
                .Select(i => new Observation(20000 + every * i, back(20000 + every * i) + sd * Normal(random), sd)),
        ];
    }

    [Fact]
    public void A_back_that_swings_with_the_year_shows_its_cycle_and_its_peak()
    {
        // Peak on day 220 of the year.
        var cycle = AnnualCycle.Offer(Visits(5, 24, 45, d => 200 + 6 * Math.Cos(2 * Math.PI * (d - 219) / 365.25)), NoiseLayers.None)!;
        Assert.True(cycle.Kept);
        Assert.InRange(cycle.Amplitude.Value, 6 - 3 * cycle.Amplitude.Sd, 6 + 3 * cycle.Amplitude.Sd);
        Assert.InRange(cycle.PeakDayOfYear, 208, 232);
    }

    [Fact]
    public void A_back_without_seasons_seldom_shows_one()
    {
        var kept = Enumerable.Range(0, 200).Count(seed => AnnualCycle.Offer(Visits(seed, 16, 70, _ => 200), NoiseLayers.None)!.Kept);
        Assert.InRange(kept, 0, 24);
    }

    [Fact]
    public void Under_two_years_no_season_is_offered() => Assert.Null(AnnualCycle.Offer(Visits(1, 12, 60, _ => 200), NoiseLayers.None));

    [Fact]
    public void Sides_that_part_are_seen_to_and_the_day_is_held_by_its_interval()
    {
        int seen = 0,
            held = 0;
        for (var seed = 0; seed < 60; seed++)
        {
            var parted = 20400 + 5 * seed;
            var left = Visits(seed, 18, 60, d => 60 - (d > parted ? 6 : 0));
            var right = Visits(seed + 1000, 18, 60, _ => 60);
            var parting = Parting.FindParting(left, right, new(1, 0), 4.8)!;
            if (parting.P < 0.9)
                continue;
            seen++;
            Assert.True(parting.Parted.Value > 0);
            if (parting.From <= Days.DateOf(parted) && parting.To >= Days.DateOf(parted))
                held++;
        }
        Assert.InRange(seen, 45, 60);
        // A 90 % interval, 45 to 60 times: five sd of the binomial below.
        Assert.InRange((double)held / seen, 0.72, 1);
    }

    [Fact]
    public void A_habitual_difference_of_the_sides_is_no_parting()
    {
        var alarms = Enumerable
            .Range(0, 100)
            .Count(seed =>
                Parting.FindParting(Visits(seed, 18, 60, _ => 64), Visits(seed + 500, 18, 60, _ => 60), new(1, 0), 4.8)!.P > 0.9
            );
        Assert.InRange(alarms, 0, 5);
        Assert.Null(Parting.FindParting(Visits(1, 3, 60, _ => 64), Visits(2, 3, 60, _ => 60), new(1, 0), 4.8));
    }

    [Fact]
    public void Refits_to_come_are_the_sum_of_what_each_horse_foretells()
    {
        IReadOnlyList<double>[] horses =
        [
            [0.1, 0.3, 0.3],
            [0.9, 0.95, 1],
            [0, 0.5, 0.5],
        ];
        var forecast = RefitForecast.ByMonth(horses, new(2026, 11, 25), months: 2);
        Assert.Equal(new DateOnly(2026, 11, 1), forecast[0].Month);
        Assert.Equal(0.2 + 0.05 + 0.5, forecast[0].Expected, 1e-12);
        Assert.Equal(0.05, forecast[1].Expected, 1e-12);
        Assert.Equal(new DateOnly(2026, 12, 1), forecast[1].Month);
    }

    [Fact]
    public void The_interval_of_a_hundred_equal_horses_is_that_of_the_binomial()
    {
        var forecast = RefitForecast.ByMonth([.. Enumerable.Range(0, 100).Select(_ => new[] { 0, 0.2 })], new(2026, 11, 25), months: 1)[0];
        // Binomial(100, 0.2): P(X ≤ 14) = 0.0804, P(X ≤ 15) = 0.1285; P(X ≤ 24) = 0.8686, P(X ≤ 25) = 0.9125.
        Assert.Equal((15, 25), (forecast.Low, forecast.High));
    }

    [Fact]
    public void Change_is_told_by_age_and_by_season()
    {
        ObservedChange[] changes = [new(3, new(2026, 1, 15), 1), new(3.9, new(2026, 7, 15), 3), new(20, new(2026, 12, 1), -2)];
        Assert.Equal([("under 4", 2), ("18 and over", 1)], ChangeDistribution.ByAge(changes).Select(g => (g.Group, g.Count)));
        Assert.Equal(2, ChangeDistribution.ByAge(changes)[0].Median, 1e-12);
        Assert.Equal([("winter", 2), ("summer", 1)], ChangeDistribution.BySeason(changes).Select(g => (g.Group, g.Count)));
        Assert.Equal([("winter", 1), ("summer", 2)], ChangeDistribution.BySeason(changes, southern: true).Select(g => (g.Group, g.Count)));
    }

    [Fact]
    public void Forty_horses_teach_how_far_a_measure_drifts()
    {
        var random = new Random(9);
        const double q = 2e-6;
        var horses = Enumerable
            .Range(0, 40)
            .Select(_ =>
            {
                var (level, slope) = (45.0, 0.0);
                var series = new List<Observation>();
                for (var day = 0; day <= 1095; day++)
                {
                    level += slope + Math.Sqrt(q / 3) * Normal(random);
                    slope += Math.Sqrt(q) * Normal(random);
                    if (day % 73 == 0)
                        series.Add(new(day, level + Normal(random), 1));
                }
                return new WatchedSeries("slope-left", "shoulder", "deg", series, NoiseLayers.None, new(4));
            })
            .ToList();
        var prior = DriftLearning.Learn(horses)!;
        Assert.InRange(prior.Median, q / 3, q * 3);
        Assert.Null(DriftLearning.Learn([.. horses.Take(9)]));
    }

    [Fact]
    public void Backs_that_never_move_lower_the_rate_no_further_than_the_practice_allows()
    {
        double Day(int i) => 20000 + 90 * i;
        var random = new Random(4);
        FittedPeriod Period() =>
            new(
                [
                    .. Since_the_last_fit
                        .Back([.. Enumerable.Range(0, 10).Select(i => (Day(i), 0.0))])
                        .Select(s =>
                            s with
                            {
                                Observations =
                                [
                                    .. s.Observations.Select(o =>
                                        o with
                                        {
                                            Value = o.Value + Math.Sqrt(o.Sd * o.Sd + s.Noise.VisitSd * s.Noise.VisitSd) * Normal(random),
                                        }
                                    ),
                                ],
                            }
                        ),
                ],
                Day(0),
                Day(9)
            );
        var periods = Enumerable.Range(0, 60).Select(_ => Period()).ToList();
        var learned = PriorLearning.Learn(periods, WatchRules.Default)!;
        Assert.InRange(learned.MovesPerYear, 0, 0.3);
        var rules = WatchRules.Default with { Learned = learned };
        Assert.Equal(rules.Movement.LeastMovesPerYear, rules.Effective.Movement.MovesPerYear);
        Assert.Equal(60, learned.Drift.Single(d => d.Measure == "width@100").Horses);
        // Learning again starts from the rules, not from what was learned before; a record of lists is compared as it is stored.
        Assert.Equal(
            System.Text.Json.JsonSerializer.Serialize(learned),
            System.Text.Json.JsonSerializer.Serialize(PriorLearning.Learn(periods, rules))
        );
        Assert.Null(PriorLearning.Learn([.. periods.Take(9)], WatchRules.Default));
    }

    [Fact]
    public void A_value_far_from_what_the_others_foretell_is_a_surprise()
    {
        Observation[] series = [new(0, 30, 1), new(60, 30.2, 1), new(120, 29.9, 1), new(180, 30.1, 1), new(240, 30, 1), new(300, 45, 1)];
        Assert.True(Surprise.OfLatest(series, NoiseLayers.None, prior: new(1e-9)) > 5);
        Assert.True(Math.Abs(Surprise.OfLatest([.. series[..5]], NoiseLayers.None)!.Value) < 1);
        Assert.Null(Surprise.OfLatest(series[..3], NoiseLayers.None));
    }
}
