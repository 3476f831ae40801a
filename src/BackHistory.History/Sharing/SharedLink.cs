namespace BackHistory.History.Sharing;

/// <summary>A link that shows one horse, until it ends, is taken back, or its owner sells the horse.</summary>
public sealed record SharedLink(
    Guid Id,
    Guid? PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    bool BindsToDevice,
    DateTimeOffset EndsAt,
    DateTimeOffset MadeAt,
    Guid MadeBy
)
{
    /// <summary>SHA-256 of the secret of the device that opened it first.</summary>
    public string? Device { get; init; }

    public DateTimeOffset? BoundAt { get; init; }

    public DateTimeOffset? RevokedAt { get; init; }

    /// <inheritdoc cref="Grant.Holds"/>
    public bool Holds(DateTimeOffset now, Guid? owner) => RevokedAt is null && now < EndsAt && IsForOwner(owner);

    /// <summary>A link that was made for the owner is void once somebody else owns the horse.</summary>
    public bool IsForOwner(Guid? owner) => Role != SharedWith.Owner || PersonId is null || owner == PersonId;
}
