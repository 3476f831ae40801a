using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Tests.Reminders;

/// <summary>A day is the practice's, not that of Greenwich: an evening in Denver is already the next morning there.</summary>
public sealed class DaysOfThePracticeTests
{
    private static readonly TimeZoneInfo Denver = TimeZoneInfo.FindSystemTimeZoneById("America/Denver");

    /// <summary>Seven in the evening of 19 November in Denver.</summary>
    private static readonly DateTimeOffset Evening = new(2026, 11, 20, 2, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_visit_of_this_evening_counts_this_evening()
    {
        var series = Series.SeriesFrom([Visit()], "weight", null, WatchRules.Default, Denver)!;
        var today = new DateOnly(2026, 11, 19);
        Assert.Equal(today, ZoneClock.Day(Evening, Denver));
        Assert.True(series.Observations[0].Day <= TrendDays.EndOf(today));
        Assert.True(series.Observations[0].Day >= TrendDays.EndOf(today.AddDays(-1)));
    }

    [Fact]
    public void The_check_after_a_visit_is_due_by_the_day_that_it_was_there()
    {
        var practice = Founded("America/Denver");
        var assessment = Assessing.Assess(Horse(), [Visit()], practice, new DateOnly(2026, 11, 19), 0, null);

        Assert.Equal(new DateOnly(2026, 11, 19).AddDays(practice.WatchBy().Calendar.SteadyDays), assessment.NextCheckDue);
    }

    [Fact]
    public void A_foal_is_measured_on_its_first_morning_though_it_is_still_the_day_before_at_Greenwich()
    {
        var morning = new DateTimeOffset(2026, 11, 20, 8, 0, 0, TimeSpan.FromHours(13)).ToUniversalTime();
        Assert.Null(Weighed(born: new DateOnly(2026, 11, 20), morning));
        Assert.Equal("before-birth", Weighed(born: new DateOnly(2026, 11, 21), morning));

        static string? Weighed(DateOnly born, DateTimeOffset at)
        {
            var id = DeterministicId.From("foal");
            var details = new HorseDetails("Foal", null, born, null, null, null);
            var registered = HorseDecider.Decide(null, new RegisterHorse(id, details, null, null, at.AddDays(3), id), at.AddDays(3));
            var horse = registered.Events.Aggregate((Horses.Horse?)null, Horses.Horse.After);
            var visit = new RecordVisit(
                DeterministicId.From("visit"),
                at,
                id,
                new VisitConditions(),
                "scale",
                1,
                [new WeightEntry(DeterministicId.From("weight"), 60)]
            );
            return HorseDecider.Decide(horse, visit, at.AddDays(3)).Refused?.Code;
        }
    }

    private static Practice Founded(string timeZone)
    {
        var id = DeterministicId.From("practice");
        var decided = PracticeDecider.Decide(null, new FoundPractice(id, "Evening", timeZone, false, Guid.Empty), Evening.AddYears(-1));
        return decided.Events.Aggregate((Practice?)null, Practice.After)!;
    }

    private static HorseProfile Horse() =>
        new()
        {
            Id = DeterministicId.From("horse"),
            Name = "Evening Horse",
            RegisteredAt = Evening.AddDays(-100),
        };

    private static VisitRecord Visit() =>
        new()
        {
            Id = DeterministicId.From("visit"),
            HorseId = DeterministicId.From("horse"),
            TakenAt = Evening,
            Method = "scale",
            Entries = [new EntryRecord(DeterministicId.From("entry"), 1, "weight", null, [new MeasureRow("weight", null, 512, "kg")], [])],
        };
}
