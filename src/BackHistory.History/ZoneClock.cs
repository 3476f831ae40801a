namespace BackHistory.History;

/// <summary>
/// The clock of a place, where instants become days and hours and back, on days of 23 and of 25 hours too. Nothing else converts:
/// <c>BannedSymbols.txt</c> refuses it.
/// </summary>
public static class ZoneClock
{
    public static DateOnly Day(DateTimeOffset moment, TimeZoneInfo zone) => DateOnly.FromDateTime(At(moment, zone).DateTime);

    /// <summary>The day that it is then where it is latest: what no place can say is later.</summary>
    public static DateOnly LatestDay(DateTimeOffset moment) => DateOnly.FromDateTime(moment.ToOffset(TimeSpan.FromHours(14)).DateTime);

    /// <summary>The day that it is then where it is earliest.</summary>
    public static DateOnly EarliestDay(DateTimeOffset moment) => DateOnly.FromDateTime(moment.ToOffset(TimeSpan.FromHours(-12)).DateTime);

#pragma warning disable RS0030 // Here, and nowhere else.
    /// <summary>A moment as a clock there shows it.</summary>
    public static DateTimeOffset At(DateTimeOffset moment, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(moment, zone);

    /// <summary>The moment at which a clock there shows this hour of this day: the first of two in autumn, the moment of the jump when
    /// spring leaves the hour out.</summary>
    public static DateTimeOffset At(DateOnly day, TimeOnly time, TimeZoneInfo zone)
    {
        var local = day.ToDateTime(time, DateTimeKind.Unspecified);
        // At both ends of the calendar an offset would lead out of it; what lies there is refused by whoever asks, as an implausible day.
        if (day.Year is 1 or 9999)
            return new DateTimeOffset(local, TimeSpan.Zero);
        if (zone.IsAmbiguousTime(local))
            return new DateTimeOffset(local, zone.GetAmbiguousTimeOffsets(local).Max());
        if (!zone.IsInvalidTime(local))
            return new DateTimeOffset(local, zone.GetUtcOffset(local));
        var before = local;
        while (zone.IsInvalidTime(before))
            before = before.AddMinutes(-1);
        return new DateTimeOffset(before, zone.GetUtcOffset(before)).AddMinutes(1);
    }
#pragma warning restore RS0030
}
