using System.Text.Json.Serialization;

namespace BackHistory.Store.Audit;

/// <summary>
/// That somebody saw something, or was turned away. What was changed stands in the events; this is what no event says. Ids only: names
/// live in documents that can be erased.
/// </summary>
/// <param name="What">One of <see cref="AuditWords"/>.</param>
/// <param name="PersonId">Who, where it is known.</param>
public sealed record AuditNote(
    Guid Id,
    [property: JsonConverter(typeof(ColumnTimeConverter))] DateTimeOffset At,
    string What,
    Guid? PersonId,
    Guid? HorseId
)
{
    /// <summary>By which link; see Sharing.</summary>
    public Guid? LinkId { get; init; }

    /// <summary>By which grant; see Sharing.</summary>
    public Guid? GrantId { get; init; }

    /// <summary>The person whom it was about: whose role was changed, who was invited.</summary>
    public Guid? About { get; init; }

    /// <summary>More in words, for example the device or why somebody was turned away. Nobody's personal data.</summary>
    public string? Detail { get; init; }
}

/// <summary>What an <see cref="AuditNote"/> can say.</summary>
public static class AuditWords
{
    public const string Saw = "saw";
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
}
