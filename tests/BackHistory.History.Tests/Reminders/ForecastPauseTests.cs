using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Tests.Reminders;

/// <summary>The forecast asks for a visit from a tenth of a chance on; right after a visit another one could tell no more.</summary>
public sealed class ForecastPauseTests
{
    private static readonly Guid Horse = DeterministicId.From("horse");
    private static readonly DateTimeOffset Seen = new(2026, 6, 1, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly SeenOn = new(2026, 6, 1);

    [Fact]
    public void The_forecast_alone_calls_nobody_in_within_four_weeks_of_a_visit()
    {
        for (var day = 0; day < 60; day++)
            Assert.Equal(day >= 28, Asks(CheckReason.Forecast, day));
    }

    [Fact]
    public void Whatever_else_makes_a_check_due_is_said_at_once()
    {
        Assert.All(Enum.GetValues<CheckReason>().Where(r => r != CheckReason.Forecast), reason => Assert.True(Asks(reason, 3)));
    }

    [Fact]
    public void The_day_on_which_the_pause_ends_is_looked_at()
    {
        var situation = new Situation(
            "practice",
            Profile(),
            [Visit()],
            Assessment(CheckReason.Forecast, 3),
            [],
            new Readers(null, null),
            ReminderRules.Default,
            WatchRules.Default,
            Seen.AddDays(3),
            TimeZoneInfo.Utc
        );

        Assert.Equal(SeenOn.AddDays(28), ReminderPolicy.NextLook(situation));
    }

    private static bool Asks(CheckReason reason, int daysAfter) =>
        ReminderTriggers
            .Current(Profile(), [Visit()], Assessment(reason, daysAfter), ReminderRules.Default, WatchRules.Default, TimeZoneInfo.Utc)
            .Any(g => g.Rule == ReminderRule.CheckDue);

    private static HorseProfile Profile() =>
        new()
        {
            Id = Horse,
            Name = "Forecast Horse",
            RegisteredAt = Seen,
        };

    private static VisitRecord Visit() =>
        new()
        {
            Id = DeterministicId.From("visit"),
            HorseId = Horse,
            TakenAt = Seen,
            RecordedAt = Seen,
        };

    private static Assessment Assessment(CheckReason reason, int daysAfter)
    {
        var today = SeenOn.AddDays(daysAfter);
        var decision = new HorseDecision(
            WatchState.Watch,
            0.15,
            SeenOn,
            today,
            [],
            null,
            [],
            null,
            [],
            new NextCheck(SeenOn, reason),
            null,
            null,
            [],
            1
        );
        return new Assessment
        {
            Id = Horse,
            AsOf = today,
            RulesVersion = 1,
            State = WatchState.Watch,
            NextCheckDue = SeenOn,
            Saddles = [new SaddleAssessment(DeterministicId.From("saddle"), DeterministicId.From("work"), null, decision)],
        };
    }
}
