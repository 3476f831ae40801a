namespace BackHistory.History.Sharing;

/// <summary>What one person may see of one horse, until when, and who gave it.</summary>
public sealed record Grant(
    Guid Id,
    Guid PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    DateOnly? Until,
    DateTimeOffset GivenAt,
    Guid GivenBy
)
{
    public DateTimeOffset? RevokedAt { get; init; }

    /// <param name="today">The practice's day.</param>
    /// <param name="owner">The horse's owner today: whoever sold it sees it no longer as its owner.</param>
    public bool Holds(DateOnly today, Guid? owner) =>
        RevokedAt is null && !(Until < today) && (Role != SharedWith.Owner || owner == PersonId);
}
