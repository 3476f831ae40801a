namespace BackHistory.History.Practices;

/// <summary>The clock of a practice: that of its time zone.</summary>
public static class PracticeClock
{
    /// <exception cref="TimeZoneNotFoundException">The practice's time zone is none of this machine's.</exception>
    public static TimeZoneInfo Zone(Practice practice) => TimeZoneInfo.FindSystemTimeZoneById(practice.TimeZone);

    /// <summary>The day that it is there now.</summary>
    public static DateOnly Today(Practice practice, TimeProvider time) => ZoneClock.Day(time.GetUtcNow(), Zone(practice));

    /// <summary>A moment as the practice's clock shows it.</summary>
    public static DateTimeOffset Local(Practice practice, DateTimeOffset moment) => ZoneClock.At(moment, Zone(practice));

    public static DateOnly Day(Practice practice, DateTimeOffset moment) => ZoneClock.Day(moment, Zone(practice));
}
