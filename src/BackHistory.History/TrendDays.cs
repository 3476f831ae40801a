namespace BackHistory.History;

/// <summary>Days as the trend engine counts them.</summary>
public static class TrendDays
{
    /// <summary>Days since 1970-01-01 by the clock of a place, with the time of day as fraction: the whole part is the day that it was
    /// there.</summary>
    public static double DayNumber(DateTimeOffset at, TimeZoneInfo zone) =>
        (ZoneClock.At(at, zone).DateTime - DateTime.UnixEpoch).TotalDays;

    /// <summary>The last moment of a day, so that everything seen on it counts.</summary>
    public static double EndOf(DateOnly day) => day.DayNumber - DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber + (1 - 1e-6);
}
