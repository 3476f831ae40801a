using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Tests;

public class Watching_a_horse
{
    static readonly WatchRules Rules = WatchRules.Default;

    static double Day(int year, int month, int day) => Since_the_last_fit.Day(year, month, day);

    static readonly (double, double)[] Still =
    [
        (Day(2025, 1, 10), 0),
        (Day(2025, 4, 2), 0.1),
        (Day(2025, 6, 3), -0.1),
        (Day(2025, 8, 20), 0),
    ];

    static HorseDecision Decide(
        IReadOnlyList<WatchedSeries> back,
        DateOnly asOf,
        WatchState? before = null,
        HorseCircumstances? horse = null,
        WatchRules? rules = null
    ) => HorseJudge.Decide(back, Day(2025, 1, 10), Days.DayNumber(asOf), rules ?? Rules, before, horse);

    /// <summary>The measure alone moves by so many thresholds at the last visit.</summary>
    static List<WatchedSeries> WithOneSlip(string measure, double thresholds)
    {
        var back = Since_the_last_fit.Back(Still);
        var i = back.FindIndex(s => string.Equals(s.Measure, measure, StringComparison.Ordinal));
        var shift = thresholds * back[i].Threshold.At(back[i].Observations[0].Value);
        back[i] = back[i] with
        {
            Observations = [.. back[i].Observations.Select((o, k) => k == 3 ? o with { Value = o.Value + shift } : o)],
        };
        return back;
    }

    [Fact]
    public void One_measure_that_jumps_once_is_measured_again_and_no_reason_for_a_refit()
    {
        var decision = Decide(WithOneSlip("slope-left", 3.5), new(2025, 8, 20));
        Assert.NotEqual(WatchState.Refit, decision.State);
        var alone = decision.Measures.Single(m => m.Measure == "slope-left");
        Assert.True(alone.Alone!.P > 0.8, "by itself the measure would call for a refit");
        Assert.True(alone.MeasureAgain);
        Assert.Contains(decision.InWords(Rules), s => s.Kind == "measure-again");
    }

    [Fact]
    public void The_same_jump_confirmed_at_the_next_visit_is_believed()
    {
        var back = WithOneSlip("slope-left", 3.5);
        var confirmed = back.Select(s => s with { Observations = [.. s.Observations, s.Observations[3] with { Day = Day(2025, 11, 1) }] })
            .ToList();
        Assert.True(Decide(confirmed, new(2025, 11, 1)).P > 3 * Decide(back, new(2025, 8, 20)).P);
    }

    [Fact]
    public void A_state_that_holds_does_not_flicker_about_its_bar()
    {
        var back = Since_the_last_fit.Back((Day(2025, 1, 10), 0), (Day(2025, 4, 2), 0.5), (Day(2025, 8, 20), 1.05));
        var p = Decide(back, new(2025, 8, 20)).P!.Value;
        var rules = Rules with { Bars = new(Refit: p + 0.02, RefitEnds: p - 0.02, Watch: p - 0.05, WatchEnds: p - 0.1) };
        Assert.Equal(WatchState.Watch, Decide(back, new(2025, 8, 20), rules: rules).State);
        Assert.Equal(WatchState.Refit, Decide(back, new(2025, 8, 20), WatchState.Refit, rules: rules).State);
        rules = Rules with { Bars = new(Refit: 0.99, RefitEnds: 0.98, Watch: p + 0.02, WatchEnds: p - 0.02) };
        Assert.Equal(WatchState.Steady, Decide(back, new(2025, 8, 20), rules: rules).State);
        Assert.Equal(WatchState.Watch, Decide(back, new(2025, 8, 20), WatchState.Watch, rules: rules).State);
    }

    [Fact]
    public void A_back_that_was_moving_and_was_not_seen_for_two_years_is_unknown_and_not_called_another_shape()
    {
        var back = Since_the_last_fit.Back(
            (Day(2025, 1, 10), 0),
            (Day(2025, 4, 2), 1.1),
            (Day(2025, 6, 3), 0.1),
            (Day(2025, 8, 20), -0.9),
            (Day(2025, 11, 5), 0)
        );
        var rules = Rules with { Bars = Rules.Bars with { Refit = 0.5, RefitEnds = 0.35 } };
        var decision = Decide(back, new(2027, 11, 5), rules: rules);
        Assert.True(decision.P > rules.Bars.Refit, $"it may well have passed a limit, nobody knows in which direction: {decision.P}");
        Assert.True(decision.POneWay < rules.Bars.Refit, $"{decision.POneWay}");
        Assert.Equal(WatchState.Unknown, decision.State);
    }

    [Fact]
    public void A_shape_found_to_be_another_stays_so_while_nobody_looks()
    {
        var opened = Since_the_last_fit.Back([.. Still, (Day(2025, 12, 1), 3)]);
        Assert.Equal(WatchState.Refit, Decide(opened, new(2026, 12, 1), WatchState.Refit).State);
    }

    [Fact]
    public void What_was_measured_later_was_not_known_then()
    {
        var opened = Since_the_last_fit.Back([.. Still, (Day(2025, 12, 1), 3)]);
        var then = Decide(opened, new(2025, 8, 20));
        Assert.Equal(Decide(Since_the_last_fit.Back(Still), new(2025, 8, 20)).P, then.P);
        Assert.Equal(WatchState.Refit, Decide(opened, new(2025, 12, 1)).State);
    }

    [Fact]
    public void The_state_stays_until_the_day_that_the_decision_names_for_looking_again()
    {
        var back = Since_the_last_fit.Back(Still);
        var decision = Decide(back, new(2025, 8, 20));
        var on = decision.ReassessOn!.Value;
        Assert.NotEqual(decision.State, Decide(back, on, decision.State).State);
        foreach (var days in new[] { 1, 3, 10, 40 })
            if (on.AddDays(-days) > new DateOnly(2025, 8, 20))
                Assert.Equal(decision.State, Decide(back, on.AddDays(-days), decision.State).State);
    }

    [Fact]
    public void The_forecast_names_the_days_on_which_the_chance_is_a_tenth_a_half_and_nine_tenths()
    {
        // A practice whose backs move often, so that all three dates fall within the year.
        var restless = Rules with
        {
            Movement = Rules.Movement with { MovesPerYear = 6, Scales = [new(1 / 10.0, 1)], PersistenceDays = 400 },
        };
        var decision = Decide(Since_the_last_fit.Back(Still), new(2025, 8, 20), rules: restless);
        double P(DateOnly day) => Decide(Since_the_last_fit.Back(Still), day, rules: restless).P!.Value;
        foreach (var (day, bar) in new[] { (decision.Forecast!.From, 0.1), (decision.Forecast.Reached, 0.5), (decision.Forecast.To, 0.9) })
        {
            Assert.NotNull(day);
            Assert.True(P(day.Value) >= bar);
            Assert.True(P(day.Value.AddDays(-1)) < bar);
        }
        Assert.Equal(13, decision.PByMonth.Count);
        Assert.Equal(decision.P, decision.PByMonth[0]);
        Assert.Equal(P(new DateOnly(2025, 8, 20).AddDays(61)), decision.PByMonth[2], 0.01);
    }

    public static readonly TheoryData<HorseCircumstances, int, CheckReason> Calendar = new()
    {
        { HorseCircumstances.Unknown, 180, CheckReason.SteadyWork },
        { new(Born: new DateOnly(2020, 5, 1)), 90, CheckReason.YoungHorse },
        { new(Born: new DateOnly(2010, 5, 1)), 180, CheckReason.SteadyWork },
        { new(Born: new DateOnly(2004, 5, 1)), 90, CheckReason.OldHorse },
        { new(BackFromLayOff: true), 90, CheckReason.BackFromLayOff },
        { new(ChangingWork: true), 90, CheckReason.ChangingWork },
    };

    [Theory, MemberData(nameof(Calendar))]
    public void The_calendar_asks_for_a_visit_by_age_and_work(HorseCircumstances horse, int days, CheckReason reason)
    {
        // Backs that hardly ever move, so that the calendar speaks before the forecast.
        var calm = Rules with
        {
            Movement = Rules.Movement with { MovesPerYear = 0.01 },
        };
        var due = Decide(Since_the_last_fit.Back(Still), new(2025, 8, 20), horse: horse, rules: calm).NextCheck;
        Assert.Equal((new DateOnly(2025, 8, 20).AddDays(days), reason), (due.Due, due.Reason));
    }

    [Fact]
    public void A_new_saddle_is_checked_after_six_weeks_unless_a_visit_has_seen_it_settle()
    {
        var calm = Rules with { Movement = Rules.Movement with { MovesPerYear = 0.01 } };
        DateOnly Due(DateOnly work) =>
            Decide(Since_the_last_fit.Back(Still), new(2025, 8, 20), horse: new(SaddleNewOrReflocked: work), rules: calm).NextCheck.Due;
        Assert.Equal(new DateOnly(2025, 8, 20).AddDays(42), Due(new(2025, 8, 20)));
        Assert.Equal(new DateOnly(2025, 8, 20).AddDays(180), Due(new(2025, 7, 20)));
    }

    [Fact]
    public void A_change_of_weight_by_a_twentieth_brings_the_next_visit_forward()
    {
        var (sd, layers) = Rules.NoiseOf("weight")!.At(500);
        var back = Since_the_last_fit.Back(Still);
        back.Add(
            new(
                "weight",
                null,
                "kg",
                [.. Still.Select((v, i) => new Observation(v.Item1, 500 + 11 * i, sd, "ann"))],
                layers,
                Rules.ThresholdOf("weight")!
            )
        );
        var calm = Rules with { Movement = Rules.Movement with { MovesPerYear = 0.01 } };
        Assert.Equal(CheckReason.WeightChange, Decide(back, new(2025, 8, 20), rules: calm).NextCheck.Reason);
    }

    [Fact]
    public void Loss_on_one_side_goes_to_the_veterinary_surgeon()
    {
        // One flank behind the shoulder steepens from visit to visit; that the other stations stand still says that no sheet leaned.
        var back = LeaningBacks.Of(
            [
                new(Day(2025, 1, 10)),
                new(Day(2025, 4, 2)),
                new(Day(2025, 6, 3), LeftLost: [0, 4.5, 0, 0]),
                new(Day(2025, 8, 20), LeftLost: [0, 9, 0, 0]),
            ],
            Rules
        );
        var decision = Decide(back, new(2025, 8, 20));
        Assert.Equal("left", decision.Caution!.Side);
        Assert.Equal("behind-shoulder", decision.Caution.Station);
        Assert.InRange(decision.Caution.ChangePercent, -30, -8);
        Assert.Contains("veterinary surgeon", decision.InWords(Rules).Single(s => s.Kind == "caution").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Loss_on_both_sides_alike_is_no_loss_on_one_side()
    {
        var decision = Decide(
            Since_the_last_fit.Back((Day(2025, 1, 10), 0), (Day(2025, 4, 2), -0.7), (Day(2025, 6, 3), -1.4), (Day(2025, 8, 20), -2)),
            new(2025, 8, 20)
        );
        Assert.Equal(WatchState.Refit, decision.State);
        Assert.Null(decision.Caution);
    }

    [Fact]
    public void A_steady_difference_between_the_sides_is_no_change()
    {
        var back = Since_the_last_fit.Back(Still);
        back[0] = back[0] with { Observations = [.. back[0].Observations.Select(o => o with { Value = o.Value + 6 })] };
        Assert.Equal(WatchState.Steady, Decide(back, new(2025, 8, 20)).State);
    }

    [Fact]
    public void A_threshold_below_what_the_hand_can_see_is_pointed_out()
    {
        var back = Since_the_last_fit.Back(Still);
        back[0] = back[0] with { Threshold = new(2) };
        var decision = Decide(back, new(2025, 8, 20));
        Assert.True(decision.Measures[0].ThresholdMeasuresTheHand);
        // 1.96·√2·√(1² + 1.5²) = 5.0 degrees.
        Assert.Contains(
            decision.InWords(Rules),
            s =>
                s.Kind == "threshold"
                && s.Text.Contains("5.0°", StringComparison.Ordinal)
                && s.Text.Contains("2.0°", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_measure_whose_limit_comes_to_nothing_leaves_the_others_judged()
    {
        var back = Since_the_last_fit.Back(Still);
        var before = Decide(back, new(2025, 8, 20)).P;
        back.Add(
            new(
                "skew-area@100",
                "behind-shoulder",
                "%",
                [.. Still.Select(v => new Observation(v.Item1, 0, 3, "ann"))],
                NoiseLayers.None,
                new(5, PercentOfBaseline: true)
            )
        );
        back.Add(
            new(
                "fill-left",
                "behind-shoulder",
                "cm2",
                [.. Still.Select(v => new Observation(v.Item1, 4, 3, "ann"))],
                NoiseLayers.None,
                new(double.PositiveInfinity)
            )
        );
        Assert.Equal(before!.Value, Decide(back, new(2025, 8, 20)).P!.Value, 0.01);
    }

    [Fact]
    public void Every_sentence_is_plain_and_ends()
    {
        foreach (var opened in new[] { 0.0, 0.8, 1.2, 3 })
        {
            var back = Since_the_last_fit.Back(
                (Day(2025, 1, 10), 0),
                (Day(2025, 4, 2), opened / 3),
                (Day(2025, 6, 3), opened / 1.5),
                (Day(2025, 8, 20), opened)
            );
            Assert.All(Decide(back, new(2025, 8, 20)).InWords(Rules), s => Assert.Matches("^[A-Z].*[.]$", s.Text));
        }
    }

    [Fact]
    public void The_baseline_is_the_nearest_visit_within_three_weeks_and_the_earlier_of_two()
    {
        DateOnly[] visits = [new(2026, 5, 1), new(2026, 5, 21), new(2026, 6, 30)];
        Assert.Equal(new Baseline(new(2026, 5, 1), -10), Baseline.Choose(new(2026, 5, 11), visits, Rules));
        Assert.Equal(new Baseline(new(2026, 5, 21), 0), Baseline.Choose(new(2026, 5, 21), visits, Rules));
        Assert.Equal(new Baseline(new(2026, 6, 30), 18), Baseline.Choose(new(2026, 6, 12), visits, Rules));
        Assert.Null(Baseline.Choose(new(2026, 7, 30), visits, Rules));
    }

    [Fact]
    public void The_rules_survive_the_journey_through_json()
    {
        var json = System.Text.Json.JsonSerializer.Serialize(Rules);
        var back = System.Text.Json.JsonSerializer.Deserialize<WatchRules>(json)!;
        Assert.Equal(json, System.Text.Json.JsonSerializer.Serialize(back));
        var still = Since_the_last_fit.Back(Still);
        Assert.Equal(Decide(still, new(2025, 8, 20)).P, Decide(still, new(2025, 8, 20), rules: back).P);
    }
}
