using BackHistory.History;
using BackHistory.History.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>A link shows nothing any more.</summary>
public sealed class TakeBackLink(SharingWork sharing) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid HorseId, Guid LinkId, string? Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var revoke = new RevokeLink(input.LinkId, input.Reason, by.Context.Actor);
        return sharing.Decide(by.Context, input.HorseId, s => SharingDecider.Decide(s, revoke, by.Context.Now), ct);
    }
}
