using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>Makes a link that shows a horse to whoever holds it, until its last day.</summary>
public sealed class ShareHorseByLink(SharingWork sharing) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="PersonId">For whom it is; the horse's owner where it is null and the role is the owner's.</param>
    /// <param name="Scope">What the role sees by default when null.</param>
    /// <param name="MayComment">Yes when null.</param>
    /// <param name="Days">1 to 90; what the role has by default when null.</param>
    public sealed record Input(
        Guid HorseId,
        Guid LinkId,
        Guid? PersonId,
        SharedWith Role,
        SharedScope? Scope = null,
        bool? MayComment = null,
        bool BindsToDevice = false,
        int? Days = null
    );

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var c = by.Context;
        var link = new MakeLink(
            input.LinkId,
            input.Role,
            input.Scope ?? ShareDefaults.ScopeOf(input.Role),
            input.MayComment ?? true,
            input.BindsToDevice,
            input.Days ?? ShareDefaults.DaysOf(input.Role),
            c.Actor
        );
        return sharing.Decide(
            c,
            input.HorseId,
            horse => input.PersonId ?? (input.Role == SharedWith.Owner ? horse?.OwnerId : null),
            (s, horse, person, today) =>
                input.PersonId is not null && person is null
                    ? horse is null
                        ? HorseRefusals.NoSuchHorse
                        : SharingRefusals.NoSuchPerson
                    : SharingDecider.Decide(s, link, horse, person, today, c.Now),
            ct,
            toOthers: input.Role != SharedWith.Owner
        );
    }
}
