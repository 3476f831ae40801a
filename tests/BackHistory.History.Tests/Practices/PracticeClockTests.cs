using System.Globalization;

namespace BackHistory.History.Tests.Practices;

/// <summary>Days of a practice and the instants that they are.</summary>
public sealed class PracticeClockTests
{
    [Theory]
    [InlineData("0001-01-01", "00:30", "Europe/Berlin")]
    [InlineData("0001-01-01", "00:30", "Pacific/Auckland")]
    [InlineData("9999-12-31", "23:30", "America/Los_Angeles")]
    public void A_day_at_the_end_of_the_calendar_is_an_instant_wherever_the_practice_is(string day, string hour, string zone)
    {
        var (on, at) = (DateOnly.Parse(day, CultureInfo.InvariantCulture), TimeOnly.Parse(hour, CultureInfo.InvariantCulture));
        Assert.Equal(on.Year, ZoneClock.At(on, at, TimeZoneInfo.FindSystemTimeZoneById(zone)).Year);
    }

    [Theory]
    [InlineData("2026-10-25", "02:30", "2026-10-25T00:30:00Z")] // twice: the first
    [InlineData("2026-03-29", "02:30", "2026-03-29T01:00:00Z")] // left out: the jump
    [InlineData("2026-06-12", "10:00", "2026-06-12T08:00:00Z")]
    public void An_hour_that_a_clock_shows_twice_is_the_first_and_one_that_it_leaves_out_is_the_jump(
        string day,
        string hour,
        string instant
    )
    {
        var (on, at) = (DateOnly.Parse(day, CultureInfo.InvariantCulture), TimeOnly.Parse(hour, CultureInfo.InvariantCulture));
        var there = ZoneClock.At(on, at, TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"));
        Assert.Equal(DateTimeOffset.Parse(instant, CultureInfo.InvariantCulture), there);
    }
}
