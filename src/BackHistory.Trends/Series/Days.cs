namespace BackHistory.Trends.Series;

/// <summary>Time as this room counts it: days since 1970-01-01 00:00 UTC. A date is its midnight UTC; a calendar day is the UTC
/// one.</summary>
public static class Days
{
    static readonly int Epoch = new DateOnly(1970, 1, 1).DayNumber;

    public static double DayNumber(DateOnly date) => date.DayNumber - Epoch;

    public static double DayNumber(DateTimeOffset instant) => (instant.UtcTicks - DateTime.UnixEpoch.Ticks) / (double)TimeSpan.TicksPerDay;

    /// <summary>The UTC calendar day that holds this instant, or null outside the calendar (years 1 to 9999).</summary>
    public static DateOnly? DateOf(double day)
    {
        var number = Math.Floor(day) + Epoch;
        return number >= DateOnly.MinValue.DayNumber && number <= DateOnly.MaxValue.DayNumber ? DateOnly.FromDayNumber((int)number) : null;
    }

    /// <summary>Whole number of the UTC calendar day that holds this instant.</summary>
    internal static double CalendarDay(double day) => Math.Floor(day);
}
