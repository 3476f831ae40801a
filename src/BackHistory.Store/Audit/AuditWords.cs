using System.Reflection;

namespace BackHistory.Store.Audit;

/// <summary>What an <see cref="AuditNote"/> can say.</summary>
public static class AuditWords
{
    public const string Saw = "saw";

    /// <summary>A device fetched it for where there is no connection.</summary>
    public const string Kept = "kept";
    public const string LinkOpened = "link-opened";
    public const string LinkTurnedAway = "link-turned-away";
    public const string GrantOpened = "grant-opened";
    public const string GrantTurnedAway = "grant-turned-away";
    public const string Invited = "invited";
    public const string InvitationTakenBack = "invitation-taken-back";
    public const string Joined = "joined";
    public const string RoleChanged = "role-changed";
    public const string TakenOut = "taken-out";
    public const string SignedOut = "signed-out-by-administrator";
    public const string KeyMade = "key-made";
    public const string KeyEnded = "key-ended";
    public const string PersonAdded = "person-added";
    public const string PersonChanged = "person-changed";
    public const string YardAdded = "yard-added";
    public const string YardChanged = "yard-changed";
    public const string YardRemoved = "yard-removed";
    public const string YardBroughtBack = "yard-brought-back";
    public const string IdentityChanged = "identity-changed";
    public const string ContactChanged = "contact-changed";
    public const string CalendarMade = "calendar-made";
    public const string CalendarRevoked = "calendar-revoked";

    public const string WebhookAdded = "webhook-added";
    public const string WebhookStarted = "webhook-started";
    public const string WebhookRemoved = "webhook-removed";

    /// <summary>Its maker was taken out of the practice, and it goes on.</summary>
    public const string WebhookStays = "webhook-stays";

    /// <summary>On the machine itself: somebody's password, second factors and sessions ended.</summary>
    public const string Recovered = "account-recovered";

    /// <summary>A copy of the practice or of a horse was taken out.</summary>
    public const string ArchiveTaken = "archive-taken";

    public const string ArchiveTakenIn = "archive-taken-in";

    /// <summary>Every one of them: what an archive's audit can say.</summary>
    public static IReadOnlySet<string> All { get; } =
        typeof(AuditWords)
            .GetFields(BindingFlags.Public | BindingFlags.Static)
            .Where(f => f.IsLiteral)
            .Select(f => (string)f.GetRawConstantValue()!)
            .ToHashSet(StringComparer.Ordinal);
}
