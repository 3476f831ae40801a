namespace BackHistory.History.Reminders;

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
        var local = TimeZoneInfo.ConvertTime(now, zone).DateTime;
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
        return LocalClock.At(first, quiet.Until, zone);
    }
}

/// <summary>Hours of a place as moments, on days of 23 and of 25 hours too.</summary>
public static class LocalClock
{
    /// <summary>The moment at which a clock there shows this hour of this day: the first of two in autumn, the moment of the jump when
    /// spring leaves the hour out.</summary>
    public static DateTimeOffset At(DateOnly day, TimeOnly time, TimeZoneInfo zone)
    {
        var local = day.ToDateTime(time, DateTimeKind.Unspecified);
        if (zone.IsAmbiguousTime(local))
            return new DateTimeOffset(local, zone.GetAmbiguousTimeOffsets(local).Max());
        if (!zone.IsInvalidTime(local))
            return new DateTimeOffset(local, zone.GetUtcOffset(local));
        var before = local;
        while (zone.IsInvalidTime(before))
            before = before.AddMinutes(-1);
        return new DateTimeOffset(before, zone.GetUtcOffset(before)).AddMinutes(1);
    }

    public static DateTimeOffset At(DateTimeOffset moment, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(moment, zone);

    public static DateOnly Day(DateTimeOffset moment, TimeZoneInfo zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(moment, zone).DateTime);
}
