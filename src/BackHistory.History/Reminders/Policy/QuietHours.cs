namespace BackHistory.History.Reminders.Policy;

/// <summary>When nobody is written to, by the reader's own clock.</summary>
public static class QuietHours
{
    /// <param name="zone">The reader's.</param>
    /// <param name="quiet">Null where letters leave at any time.</param>
    /// <returns>The moment from which letters may leave again; null when they may now.</returns>
    public static DateTimeOffset? Until(DateTimeOffset now, TimeZoneInfo zone, QuietTimes? quiet)
    {
        if (quiet is null)
            return null;
        var local = ZoneClock.At(now, zone).DateTime;
        var (day, clock) = (DateOnly.FromDateTime(local), TimeOnly.FromDateTime(local));
        var first = day;
        // IsBetween runs over midnight by itself.
        var atNight = quiet.From != quiet.Until && clock.IsBetween(quiet.From, quiet.Until);
        if (!atNight && !quiet.Days.Contains(day.DayOfWeek))
            return null;
        if (quiet.Days.Contains(day.DayOfWeek) || clock >= quiet.Until)
            first = day.AddDays(1);
        // A practice that is quiet on every day of the week is refused where it is set.
        while (quiet.Days.Contains(first.DayOfWeek))
            first = first.AddDays(1);
        return ZoneClock.At(first, quiet.Until, zone);
    }
}
