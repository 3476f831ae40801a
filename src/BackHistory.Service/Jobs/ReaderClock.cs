using BackHistory.History.Practices;
using BackHistory.History.Reminders;

namespace BackHistory.Service.Jobs;

/// <summary>The clock on a reader's wall.</summary>
public sealed class ReaderClock(PracticeQueries practices, TimeProvider time)
{
    /// <returns>The moment from which the reader may be written to again; null when they may be now.</returns>
    public async Task<DateTimeOffset?> QuietUntil(string practice, Guid personId, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { ReminderRules.Letters: { QuietFrom: not null } letters } known) return null;
        var person = await practices.Person(practice, personId, ct);
        var zone = TimeZoneInfo.TryFindSystemTimeZoneById(person?.TimeZone ?? known.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
        return QuietHours.Until(time.GetUtcNow(), zone, letters.QuietFrom, letters.QuietUntil);
    }
}
