using System.Globalization;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Tests;

public class Since_the_last_fit
{
    static readonly WatchRules Rules = WatchRules.Default;

    internal static double Day(int year, int month, int day) => Days.DayNumber(new DateOnly(year, month, day));

    /// <summary>Both slopes, the width and the half areas behind the shoulder, one tracing a visit, moved by so many thresholds of
    /// opening.</summary>
    internal static List<WatchedSeries> Back(params (double Day, double Opened)[] visits)
    {
        (string Measure, string Unit, double Base, double PerThreshold)[] measures =
        [
            ("slope-left", "deg", 45, -4),
            ("slope-right", "deg", 45, -4),
            ("width@100", "mm", 220, 12),
            ("half-area-left@100", "cm2", 60, 4.8),
            ("half-area-right@100", "cm2", 60, 4.8),
        ];
        return
        [
            .. measures.Select(m =>
            {
                var (sd, layers) = Rules.NoiseOf(m.Measure)!.At(m.Base);
                return new WatchedSeries(
                    m.Measure,
                    "behind-shoulder",
                    m.Unit,
                    [.. visits.Select(v => new Observation(v.Day, m.Base + v.Opened * m.PerThreshold, sd, "ann"))],
                    layers,
                    Rules.ThresholdOf(m.Measure)!
                );
            }),
        ];
    }

    [Fact]
    public void A_saddle_set_in_January_is_due_when_the_shoulder_has_opened_by_two_limits_in_August()
    {
        var back = Back((Day(2026, 1, 10), 0), (Day(2026, 4, 2), 0.7), (Day(2026, 6, 3), 1.4), (Day(2026, 8, 20), 2));
        var decision = HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        Assert.Equal(WatchState.Refit, decision.State);
        Assert.Equal("opens", decision.Patterns[0].Name);
        Assert.NotNull(decision.Driver);
        Assert.StartsWith("Check the saddle", decision.InWords(Rules).Single(s => s.Kind == "state").Text, StringComparison.Ordinal);
    }

    /// <summary>By the international inch, 25.4 mm exactly.</summary>
    [Theory]
    [InlineData("mm", 1 / 25.4, "″")]
    [InlineData("cm2", 1 / 6.4516, " in²")]
    public void Lengths_and_areas_are_told_in_inches_where_the_practice_reads_inches(string unit, double factor, string sign)
    {
        var back = Back((Day(2026, 1, 10), 0), (Day(2026, 4, 2), 0.7), (Day(2026, 6, 3), 1.4), (Day(2026, 8, 20), 2));
        var decision = HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        var driver = decision.Measures.First(m => m.Unit == unit && m.Alone is not null);
        decision = decision with { Driver = driver };

        var told = decision.InWords(Rules, LengthUnit.Inches);

        Assert.Equal(decision.InWords(Rules).Select(s => s.Kind), told.Select(s => s.Kind));
        Assert.Contains(
            $" by {Math.Abs(driver.Alone!.Change * factor).ToString("0.00", CultureInfo.InvariantCulture)}{sign} ",
            told.Single(s => s.Kind == "driver").Text,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain(
            told,
            s => s.Text.Contains(" mm", StringComparison.Ordinal) || s.Text.Contains("cm²", StringComparison.Ordinal)
        );
        Assert.Equal(decision.InWords(Rules), decision.InWords(Rules, LengthUnit.Millimetres));
    }

    /// <summary>One slope reads two limits steeper while everything else says that the shoulder opened, which makes it flatter.</summary>
    [Fact]
    public void A_measure_that_reads_against_all_others_is_told_with_where_they_take_it()
    {
        var back = LeaningBacks.Of(
            [
                new(Day(2026, 1, 10)),
                new(Day(2026, 4, 2), Narrowed: -2.5),
                new(Day(2026, 6, 3), Narrowed: -5),
                new(Day(2026, 8, 20), Narrowed: -7.5),
            ],
            Rules
        );
        back[0] = back[0] with { Observations = [.. back[0].Observations.Select((o, i) => o with { Value = 50 + i * 0.8 })] };
        var decision = HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        var against = decision.Measures[0];
        Assert.True(against.Alone!.Change > 0);
        Assert.True(against.Together!.Value < 0, against.Together.ToString());
        Assert.All(decision.Measures.Skip(1), m => Assert.Equal(Math.Sign(m.Alone!.Change), Math.Sign(m.Together!.Value)));

        Assert.Contains(
            "Taken with the others it is rather down",
            (decision with { Driver = against with { Together = new(-2, 1) } }).InWords(Rules).Single(s => s.Kind == "driver").Text,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain(
            "Taken with the others",
            (decision with { Driver = decision.Measures[1] }).InWords(Rules).Single(s => s.Kind == "driver").Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_back_that_reads_the_same_at_every_visit_is_steady_and_next_due_by_forecast_or_calendar()
    {
        var back = Back((Day(2026, 1, 10), 0), (Day(2026, 4, 2), 0.1), (Day(2026, 6, 3), -0.1), (Day(2026, 8, 20), 0));
        var decision = HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        Assert.Equal(WatchState.Steady, decision.State);
        Assert.InRange(decision.NextCheck.Due, new DateOnly(2026, 10, 1), new DateOnly(2027, 2, 16));
        Assert.NotNull(decision.ReassessOn);
    }

    [Fact]
    public void A_horse_that_nobody_has_measured_is_unknown_and_never_steady()
    {
        var decision = HorseJudge.Decide([], Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        Assert.Equal(WatchState.Unknown, decision.State);
        Assert.Equal(CheckReason.NoVisit, decision.NextCheck.Reason);
    }

    [Fact]
    public void A_horse_last_measured_a_year_ago_is_unknown()
    {
        var decision = HorseJudge.Decide(Back((Day(2025, 1, 10), 0), (Day(2025, 4, 2), 0)), Day(2025, 1, 10), Day(2026, 4, 2), Rules);
        Assert.Equal(WatchState.Unknown, decision.State);
    }

    [Fact]
    public void A_date_given_as_midnight_stands_for_the_visit_of_that_day()
    {
        var back = Back(
            (Day(2025, 10, 1) + 0.4, 0.2),
            (Day(2026, 1, 10) + 0.6, 0),
            (Day(2026, 4, 2) + 0.3, 0.9),
            (Day(2026, 8, 20) + 0.7, 2)
        );
        var (dates, moments) = (
            HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules),
            HorseJudge.Decide(back, Day(2026, 1, 10) + 0.6, Day(2026, 8, 20) + 0.7, Rules)
        );
        Assert.Equal(moments.P, dates.P);
        Assert.Equal(WatchState.Refit, dates.State);
    }

    [Fact]
    public void Both_shoulders_read_twelve_degrees_flatter_call_for_a_refit_at_once()
    {
        List<WatchedSeries> readings =
        [
            .. new[] { "read-slope-left", "read-slope-right" }.Select(m =>
            {
                var (sd, layers) = Rules.NoiseOf(m)!.At(45);
                return new WatchedSeries(
                    m,
                    "shoulder",
                    "deg",
                    [new(Day(2026, 5, 1), 47, sd, "ann"), new(Day(2026, 8, 20), 35, sd, "ann")],
                    layers,
                    Rules.ThresholdOf(m)!
                );
            }),
        ];
        Assert.Equal(WatchState.Refit, HorseJudge.Decide(readings, Day(2026, 5, 1), Day(2026, 8, 20), Rules).State);
        // Even overnight: no back opens so fast, but something is not as the saddle was set to it.
        var overnight = readings
            .Select(s => s with { Observations = [s.Observations[0], s.Observations[1] with { Day = Day(2026, 5, 2) }] })
            .ToList();
        Assert.Equal(WatchState.Refit, HorseJudge.Decide(overnight, Day(2026, 5, 1), Day(2026, 5, 2), Rules).State);
    }

    [Fact]
    public void A_saddle_set_before_anybody_measured_is_compared_with_nothing()
    {
        var back = Back((Day(2026, 4, 2), 0), (Day(2026, 6, 3), 0.5), (Day(2026, 8, 20), 1));
        var decision = HorseJudge.Decide(back, Day(2026, 1, 10), Day(2026, 8, 20), Rules);
        Assert.Equal(WatchState.Unknown, decision.State);
        Assert.Null(decision.P);
        Assert.Equal("no-baseline", decision.InWords(Rules)[0].Kind);
        Assert.Equal(new DateOnly(2026, 8, 20).AddDays(180), decision.NextCheck.Due);
        // Three weeks are near enough to stand for the setting.
        Assert.NotNull(HorseJudge.Decide(back, Day(2026, 3, 12), Day(2026, 8, 20), Rules).P);
    }
}
