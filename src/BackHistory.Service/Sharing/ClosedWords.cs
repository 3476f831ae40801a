namespace BackHistory.Service.Sharing;

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
