namespace BackHistory.History.Sharing;

/// <summary>Why something about sharing is refused, in a person's words.</summary>
public static class SharingRefusals
{
    public static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);
    public static readonly Refused NoSuchGrant = new(
        "no-such-grant",
        "Nothing of this horse was given under this id.",
        RefusalKind.NotFound
    );
    public static readonly Refused NoSuchLink = new("no-such-link", "There is no such link to this horse.", RefusalKind.NotFound);
    public static readonly Refused NoAddress = new(
        "no-address",
        "This person has no e-mail address, so nothing can be sent. Enter one, or make a link."
    );
    public static readonly Refused InThePast = new("in-the-past", "The last day lies in the past. Nothing was given.", Place: "until");
    public static readonly Refused NotTheOwner = new(
        "not-the-owner",
        "This person is not the horse's owner. Enter the owner first, or choose another role.",
        Place: "role"
    );
    public static readonly Refused GrantedAlready = new(
        "granted-already",
        "This person sees the horse already in this role. Take it back first, to give it anew.",
        RefusalKind.Conflict
    );
    public static readonly Refused TooMany = new(
        "too-many",
        "This horse is shared with 200 already. Take some back first.",
        RefusalKind.Conflict
    );
    public static readonly Refused BadDays = new("bad-days", "A link holds for 1 to 90 days.", Place: "days");
    public static readonly Refused BoundElsewhere = new(
        "bound-elsewhere",
        "This link was opened on another device first, and opens only there.",
        RefusalKind.Conflict
    );
    public static readonly Refused MayNotComment = new("may-not-comment", "This does not let its holder write.", RefusalKind.NotFound);
    public static readonly Refused BadWords = new(
        "bad-words",
        "Write something, in up to 2000 letters. Nothing was saved.",
        Place: "words"
    );
}
