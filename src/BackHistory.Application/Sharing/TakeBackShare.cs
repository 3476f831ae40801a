using BackHistory.History;
using BackHistory.History.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>A person or a link sees a horse no more, whatever letter they hold.</summary>
public sealed class TakeBackShare(SharingWork sharing) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Id">Of the grant or the link.</param>
    public sealed record Input(Guid HorseId, ShareKind Kind, Guid Id, string? Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var (actor, now) = (by.Context.Actor, by.Context.Now);
        return sharing.Decide(
            by.Context,
            input.HorseId,
            s =>
                input.Kind == ShareKind.Link
                    ? SharingDecider.Decide(s, new RevokeLink(input.Id, input.Reason, actor), now)
                    : SharingDecider.Decide(s, new RevokeAccess(input.Id, input.Reason, actor), now),
            ct
        );
    }
}
