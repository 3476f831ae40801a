using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <summary>What somebody outside the practice may see just now, of one horse, and by what.</summary>
/// <param name="Practice">Of the link or the grant, never of the request.</param>
public sealed record ShareContext(
    string Practice,
    Guid HorseId,
    Guid? PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    Guid? LinkId,
    Guid? GrantId
)
{
    /// <summary>The owner answers; whoever treats the horse comments.</summary>
    public bool MayAnswer => Role is SharedWith.Owner or SharedWith.Rider;
}

/// <summary>Why a link or a grant shows nothing.</summary>
public enum Closed
{
    NotOurs,
    Ended,
    TakenBack,
    OtherOwner,
    OtherDevice,
    FirstDevice,
}

/// <summary>Either <see cref="ShareContext"/>, or why there is none.</summary>
public readonly record struct Opened(ShareContext? ShareContext, Closed? Why)
{
    public static implicit operator Opened(ShareContext sight) => new(sight, null);

    public static implicit operator Opened(Closed why) => new(null, why);
}

/// <summary>The same in a person's words.</summary>
public static class ClosedWords
{
    public static (string Title, string Text) Of(Closed why) =>
        why switch
        {
            Closed.Ended => ("This link has ended.", "Links hold for some weeks only. Ask the practice for a new one."),
            Closed.TakenBack => ("This is no longer shared.", "The practice has taken it back. Ask them if you think that is a mistake."),
            Closed.OtherOwner => (
                "This horse has another owner now.",
                "What the practice knows about it belongs to its new owner. Ask the practice if you still own the horse."
            ),
            Closed.OtherDevice => (
                "This link opens on another device.",
                "It was opened there first, and opens only there. Ask the practice for a link of your own."
            ),
            Closed.FirstDevice => (
                "Open it on this device?",
                "The link opens only on the device on which it is opened first. Choose the one on which you want to read it."
            ),
            _ => (
                "This link does not work.",
                "Perhaps a part of it got lost on the way: copy it as a whole, or ask the practice for a new one."
            ),
        };
}
