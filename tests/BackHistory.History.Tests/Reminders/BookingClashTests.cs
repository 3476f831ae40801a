using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;

namespace BackHistory.History.Tests.Reminders;

/// <summary>When one fitter cannot do a visit beside the others of the day.</summary>
public sealed class BookingClashTests
{
    private static readonly DateTime Nine = new(2026, 12, 8, 9, 0, 0);
    private static readonly Guid Hill = DeterministicId.From("hill");

    [Theory]
    [InlineData(0, true)]
    [InlineData(59, true)]
    [InlineData(-59, true)]
    [InlineData(60, false)]
    public void Two_visits_that_begin_within_the_time_of_one_visit_overlap(int minutesLater, bool clashes)
    {
        var clash = BookingClash.Of(Visit("new", Nine.AddMinutes(minutesLater)), [Visit("old", Nine)], PlanningSetting.Default);

        Assert.Equal(clashes, clash?.With is not null);
    }

    [Theory]
    [InlineData(99, true)]
    [InlineData(100, false)]
    public void Between_two_yards_there_is_a_way(int minutesLater, bool clashes)
    {
        var elsewhere = Visit("new", Nine.AddMinutes(minutesLater), DeterministicId.From("another yard"));

        Assert.Equal(clashes, BookingClash.Of(elsewhere, [Visit("old", Nine)], PlanningSetting.Default)?.With is not null);
    }

    [Fact]
    public void A_day_of_more_work_than_the_practice_works_is_a_clash_and_names_both_lengths()
    {
        // Four places of 100 minutes each are 400 of the 480 minutes from nine to five; the fifth makes 500.
        var four = Enumerable.Range(0, 4).Select(i => Visit($"old {i}", Nine.AddMinutes(100 * i), yard: null)).ToList();

        Assert.Null(BookingClash.Of(four[3], [.. four.Take(3)], PlanningSetting.Default));
        var clash = BookingClash.Of(Visit("new", Nine.AddHours(7), yard: null), four, PlanningSetting.Default);
        Assert.Equal(new BookingClash(null, 500, 480), clash);
    }

    [Fact]
    public void Horses_of_one_yard_share_the_way_there()
    {
        // Seven horses of one yard: 420 minutes and one way of 40.
        var six = Enumerable.Range(0, 6).Select(i => Visit($"old {i}", Nine.AddHours(i))).ToList();

        Assert.Null(BookingClash.Of(Visit("new", Nine.AddHours(7)), six, PlanningSetting.Default));
    }

    [Fact]
    public void Another_day_and_the_same_horse_do_not_count()
    {
        Assert.Null(BookingClash.Of(Visit("new", Nine), [Visit("old", Nine.AddDays(1)), Visit("new", Nine)], PlanningSetting.Default));
    }

    private static FixedVisit Visit(string horse, DateTime at) => Visit(horse, at, Hill);

    private static FixedVisit Visit(string horse, DateTime at, Guid? yard) => new(DeterministicId.From(horse), yard, at, null);
}
