using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>By which clock a practice lives, for whoever has its name only.</summary>
public static class PracticeZone
{
    /// <summary>The time zone by which a practice lives.</summary>
    public static async Task<TimeZoneInfo> ZoneOf(PracticeQueries practices, string practice, CancellationToken ct) =>
        TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(practice, ct))?.TimeZone ?? "Etc/UTC");
}
