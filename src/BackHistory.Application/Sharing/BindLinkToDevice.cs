using BackHistory.History;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Sharing;
using BackHistory.Store;

namespace BackHistory.Application.Sharing;

/// <summary>A link opens only on this device from now on.</summary>
public sealed class BindLinkToDevice(SharingWork sharing, TimeProvider time) : IAct
{
    public static Right Needs => Right.Hold;

    /// <param name="Practice">Of the sealed link.</param>
    /// <param name="HorseId">That the link shows now: its own, or the one into which that was merged.</param>
    /// <param name="Device">Hash of the device's secret.</param>
    public sealed record Input(string Practice, Guid HorseId, Guid LinkId, string Device);

    public Task<Outcome> Do(Input input, CancellationToken ct)
    {
        var now = time.GetUtcNow();
        var context = new CommandContext(input.Practice, ReminderPolicy.TheReader, $"bind:{input.LinkId}:{input.Device}", "", null, now);
        var bind = new BindLink(input.LinkId, input.Device, ReminderPolicy.TheReader);
        return sharing.Decide(context, input.HorseId, s => SharingDecider.Decide(s, bind, now), ct);
    }
}
