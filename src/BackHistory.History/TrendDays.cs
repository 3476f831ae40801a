namespace BackHistory.History;

/// <summary>Days as the trend engine counts them.</summary>
public static class TrendDays
{
    /// <summary>Days since 1970-01-01 UTC, with the time of day as fraction.</summary>
    public static double DayNumber(DateTimeOffset at) => (at.UtcDateTime - DateTime.UnixEpoch).TotalDays;

    /// <summary>The last moment of a day, so that everything seen on it counts.</summary>
    public static double EndOf(DateOnly day) => day.DayNumber - DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber + (1 - 1e-6);
}
