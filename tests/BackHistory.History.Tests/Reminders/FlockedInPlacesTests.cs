using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Saddles;

namespace BackHistory.History.Tests.Reminders;

/// <summary>Flocking that levels a saddle is no setting of it: what the back has done since it was set is told all the same, and nobody
/// who was told of a visit is called off by what is entered of earlier days.</summary>
public sealed class FlockedInPlacesTests
{
    private static readonly Guid Horse = DeterministicId.From("horse");
    private static readonly Guid Saddle = DeterministicId.From("saddle");
    private static readonly Guid Fitter = DeterministicId.From("fitter");
    private static readonly DateTimeOffset Set = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Traced = new(2026, 9, 18, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Flocked = new(2026, 10, 5, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Changes_are_counted_on_from_the_setting_and_the_panels_settle_all_the_same()
    {
        var (assessment, horse) = Assessed(whole: false, visit: null);
        Assert.Equal(DeterministicId.From("set"), Assert.Single(assessment.Saddles).WorkId);
        Assert.Equal(new DateOnly(2026, 3, 2), assessment.Saddles[0].Decision.BaselineOn);
        Assert.True(horse.Fits.MaxBy(f => f.TakenAt)!.Fresh);
    }

    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void Panels_that_were_flocked_anew_or_to_a_visit_begin_anew(bool whole, bool toVisit)
    {
        var (assessment, _) = Assessed(whole, toVisit ? DeterministicId.From("traced") : null);
        Assert.Equal(DeterministicId.From("flocked"), Assert.Single(assessment.Saddles).WorkId);
        Assert.Equal(new DateOnly(2026, 9, 18), assessment.Saddles[0].Decision.BaselineOn);
    }

    [Fact]
    public void A_visit_that_is_booked_stays_booked_though_work_of_an_earlier_day_is_entered()
    {
        var raised = new DateTimeOffset(2026, 11, 20, 9, 0, 0, TimeSpan.Zero);
        var evidence = new Evidence(new DateOnly(2026, 9, 18), 1, "slope-left", "mid-back", "deg", 5, 1, 4, 0.9, new(2026, 3, 2), null, "");
        var booked = new object[]
        {
            new ReminderRaised(DeterministicId.From("r"), Horse, Saddle, ReminderRule.ShapeChanged, evidence, raised, Guid.Empty),
            new VisitBooked(Horse, DeterministicId.From("b"), raised.AddDays(14), raised, Fitter),
        }.Aggregate((Reminder?)null, Reminder.After)!;

        Assert.Empty(Steps(booked, raised.AddDays(1)));
        // Where nobody is on the way it ends: what it rests on was done before.
        var open = Reminder.After(booked, new BookingCancelled(Horse, booked.BookingId!.Value, "Rain.", raised, Fitter))!;
        Assert.Single(Steps(open, raised.AddDays(1)));

        IEnumerable<ReminderStep> Steps(Reminder reminder, DateTimeOffset now)
        {
            var (assessment, horse) = Assessed(whole: true, visit: null);
            return ReminderPolicy
                .Steps(
                    new Situation(
                        "practice",
                        horse,
                        Visits,
                        assessment,
                        [reminder],
                        new Readers(null, null, null),
                        ReminderRules.Default,
                        Practice.WatchBy(),
                        now,
                        TimeZoneInfo.Utc
                    )
                )
                .Where(s => s is ResolveStep or WithdrawStep);
        }
    }

    private static (Assessment, HorseProfile) Assessed(bool whole, Guid? visit)
    {
        var horse = new HorseProfile
        {
            Id = Horse,
            Name = "Amber",
            RegisteredAt = Set.AddDays(-100),
        };
        horse = ProfileSaddles.Fold(horse, Horse, Saddle, new SaddleSet(DeterministicId.From("set"), Horse, null, [], false, Set, Fitter));
        horse = ProfileSaddles.Fold(
            horse,
            Horse,
            Saddle,
            new SaddleFlocked(DeterministicId.From("flocked"), Horse, visit, "wool", whole, [], Flocked, Fitter)
        );
        return (Assessing.Assess(horse, Visits, Practice, new DateOnly(2026, 11, 21), 0, null), horse);
    }

    private static IReadOnlyList<VisitRecord> Visits { get; } = [Visit("first", Set), Visit("traced", Traced)];

    private static VisitRecord Visit(string name, DateTimeOffset at) =>
        new()
        {
            Id = DeterministicId.From(name),
            HorseId = Horse,
            TakenAt = at,
            Method = "flexible-curve",
            Entries =
            [
                new EntryRecord(
                    DeterministicId.From("entry", name),
                    1,
                    "reading",
                    "mid-back",
                    [new MeasureRow("read-slope-left", "mid-back", 32, "deg")],
                    []
                ),
            ],
        };

    private static Practice Practice { get; } =
        PracticeDecider
            .Decide(null, new FoundPractice(DeterministicId.From("practice"), "Practice", "Etc/UTC", false, Guid.Empty), Set.AddYears(-1))
            .Events.Aggregate((Practice?)null, History.Practices.Practice.After)!;
}
