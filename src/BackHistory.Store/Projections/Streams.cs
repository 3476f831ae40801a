using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;

namespace BackHistory.Store.Projections;

internal sealed partial class HorseStream : StreamState<Horse, IHorseEvent>;

internal sealed partial class SaddleStream : StreamState<Saddle, ISaddleEvent>;

internal sealed partial class PracticeStream : StreamState<Practice, IPracticeEvent>;

internal sealed partial class ReminderStream : StreamState<Reminder, IReminderEvent>;

internal sealed partial class DigestStream : StreamState<Digest, IDigestEvent>;

internal sealed partial class HorseSharingStream : StreamState<HorseSharing, ISharingEvent>
{
    protected override HorseSharing New(Guid id) => new() { Id = id };
}
