using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;

namespace BackHistory.Language.Tests;

public sealed class ReminderStandingTests
{
    private static readonly DateTimeOffset Day = new(2026, 11, 30, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public void What_is_silent_or_over_is_not_said_of_a_horse_and_what_stands_comes_weightiest_first()
    {
        var said = ReminderStanding.OfHorse([
            Of(ReminderRule.CheckDue, ReminderState.Booked),
            Of(ReminderRule.VetCaution, ReminderState.Done),
            Of(ReminderRule.MeasureAgain, ReminderState.Muted),
            Of(ReminderRule.ShapeChanged, ReminderState.Open) with
            {
                ToldAt = Day,
            },
        ]);

        Assert.Equal("The back has changed: open, told; Check due: booked", said);
    }

    [Fact]
    public void A_booked_visit_that_its_owner_does_not_want_says_both_with_the_words()
    {
        var reminder = Of(ReminderRule.CheckDue, ReminderState.Booked) with
        {
            BookedFor = Day,
            Answer = Answer.NotNeeded,
            AnsweredAt = Day,
        };
        var standing = new ReminderStanding(at => $"{at:d MMM HH:mm}");

        var said = standing.InShort(reminder, "sold the saddle");

        Assert.Contains("booked for 30 Nov 18:00", said, StringComparison.Ordinal);
        Assert.Contains("sold the saddle", said, StringComparison.Ordinal);
        Assert.Equal("booked for 30 Nov 18:00", standing.InShort(reminder with { Answer = Answer.Book }));
    }

    private static Reminder Of(ReminderRule rule, ReminderState state) =>
        new()
        {
            Rule = rule,
            State = state,
            RaisedAt = Day,
        };
}
