using System.Globalization;

namespace BackHistory.History.Reminders.Digests;

/// <summary>
/// Which digests are due. Asked at any time, it names those of the week and day that are running: after an outage the last one is made
/// up for, and those that nobody can use any more are not. Pure.
/// </summary>
public static class Digests
{
    private static readonly TimeOnly DefaultDigestAt = new(7, 0);
    private static readonly TimeOnly DefaultDayListAt = new(6, 0);

    /// <summary>A digest is not made up for when the next one comes within this time.</summary>
    private static readonly TimeSpan TooLateForTheWeek = TimeSpan.FromHours(24);

    /// <summary>After this hour a list of the day helps nobody.</summary>
    private static readonly TimeOnly TooLateForTheDay = new(15, 0);

    public static IReadOnlyList<DueDigest> Due(
        string tenant,
        LetterSetting setting,
        TimeZoneInfo zone,
        DateTimeOffset now,
        IReadOnlyList<Guid> managers,
        IReadOnlyList<Guid> fittersToday
    )
    {
        var due = new List<DueDigest>();
        if (setting.Digest && Week(setting, zone, now) is { } week)
            due.AddRange(managers.Select(m => One(tenant, LetterKind.ManagerDigest, m, week)));
        if (setting.DayList && Day(setting, zone, now) is { } day)
            due.AddRange(fittersToday.Select(f => One(tenant, LetterKind.FitterDay, f, day)));
        return due;
    }

    /// <summary>The day of the digest whose week is running.</summary>
    private static DateOnly? Week(LetterSetting setting, TimeZoneInfo zone, DateTimeOffset now)
    {
        var today = ZoneClock.Day(now, zone);
        var at = setting.DigestAt ?? DefaultDigestAt;
        var on = today.AddDays(-(((int)today.DayOfWeek - (int)setting.DigestOn + 7) % 7));
        if (ZoneClock.At(on, at, zone) > now)
            on = on.AddDays(-7);
        return ZoneClock.At(on.AddDays(7), at, zone) - now < TooLateForTheWeek ? null : on;
    }

    private static DateOnly? Day(LetterSetting setting, TimeZoneInfo zone, DateTimeOffset now)
    {
        var today = ZoneClock.Day(now, zone);
        return now >= ZoneClock.At(today, setting.DayListAt ?? DefaultDayListAt, zone) && now < ZoneClock.At(today, TooLateForTheDay, zone)
            ? today
            : null;
    }

    private static DueDigest One(string tenant, LetterKind kind, Guid to, DateOnly on) =>
        new(
            DeterministicId.From("bulletin", tenant, kind.ToString(), to.ToString(), on.ToString("O", CultureInfo.InvariantCulture)),
            kind,
            to,
            on
        );
}
