using BackHistory.History;
using BackHistory.History.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>A person sees a horse no more, whatever letter they hold.</summary>
public sealed class TakeBackShare(SharingWork sharing) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid HorseId, Guid GrantId, string? Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var revoke = new RevokeAccess(input.GrantId, input.Reason, by.Context.Actor);
        return sharing.Decide(by.Context, input.HorseId, s => SharingDecider.Decide(s, revoke, by.Context.Now), ct);
    }
}
