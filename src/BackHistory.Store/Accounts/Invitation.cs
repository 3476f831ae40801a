namespace BackHistory.Store.Accounts;

/// <summary>Somebody is asked to work in a practice. Nothing is theirs before they accept, with the link that only their mailbox
/// holds.</summary>
/// <param name="PersonId">Who they will be there.</param>
/// <param name="By">The person who asked; empty where the installation itself did, for its first administrator.</param>
public sealed record Invitation(
    Guid Id,
    string Practice,
    Guid PersonId,
    string Email,
    string Language,
    PracticeRole Role,
    Guid By,
    DateTimeOffset MadeAt,
    DateTimeOffset EndsAt
)
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(7);

    /// <summary>Not to work in the practice, but to see one of its horses: this grant.</summary>
    public Guid? GrantId { get; init; }

    public Guid? HorseId { get; init; }

    public DateTimeOffset? AcceptedAt { get; init; }

    public DateTimeOffset? RevokedAt { get; init; }

    public bool Open(DateTimeOffset now) => AcceptedAt is null && RevokedAt is null && now < EndsAt;
}
