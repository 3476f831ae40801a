using BackHistory.History;

namespace BackHistory.Service.Web;

/// <summary>Refusals of the request itself.</summary>
public static class RequestRefusals
{
    public static readonly Refused NoKey = new(
        "no-idempotency-key",
        "Send an Idempotency-Key header of up to 200 letters; repeat it when you repeat the request, and nothing is done twice."
    );

    public static readonly Refused NoVersion = new(
        "no-version",
        "Send If-Match with the ETag that you saw, or * to accept any version.",
        RefusalKind.VersionMissing
    );

    public static readonly Refused AnotherEntered = new(
        "entered-by-another",
        "Somebody else entered this. It is kept where it is until they sign in again.",
        RefusalKind.Conflict
    );

    public static readonly Refused NotOffered = new("unreadable", "The address names a choice that is not offered here.");

    public static readonly Refused BadVersion = new("bad-version", "If-Match holds an ETag of this service, for example \"12\", or *.");

    public static Refused NotJson(string detail) => new("unreadable", $"The body is not the JSON that is expected here: {detail}");
}
