using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Sharing;

/// <summary>What whoever a horse is shared with is asked.</summary>
public sealed class AskedReminder(ReminderQueries reminders)
{
    /// <summary>The horse's reminder that waits for an answer.</summary>
    public async Task<Reminder?> Find(ShareContext sight, CancellationToken ct) =>
        await reminders.Newest(sight.Practice, [ReminderState.Open, ReminderState.PutOff, ReminderState.Booked], sight.HorseId, null, 1, ct)
            is [var newest, ..]
            ? newest
            : null;
}
