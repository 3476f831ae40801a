using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.Service.Jobs;

/// <summary>The clock on a reader's wall.</summary>
public sealed class ReaderClock(TimeProvider time)
{
    /// <returns>The moment from which the reader may be written to again; null when they may now.</returns>
    public DateTimeOffset? QuietUntil(History.Practices.Practice practice, Person? reader)
    {
        var zone = TimeZoneInfo.TryFindSystemTimeZoneById(reader?.TimeZone ?? practice.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
        return QuietHours.Until(time.GetUtcNow(), zone, practice.ReminderRules.Letters.Quiet);
    }
}
