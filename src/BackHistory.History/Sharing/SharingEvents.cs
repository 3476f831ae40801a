namespace BackHistory.History.Sharing;

/// <summary>What can happen to who may look at a horse from outside the practice. One stream a horse, beside the horse's own.</summary>
public interface ISharingEvent : IHappened
{
    Guid HorseId { get; }
}

/// <summary>A person was given sight of the horse.</summary>
/// <param name="Until">The last day on which it holds; null until it is taken back.</param>
public sealed record AccessGranted(
    Guid GrantId,
    Guid HorseId,
    Guid PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    DateOnly? Until,
    DateTimeOffset TakenAt,
    Guid By
) : ISharingEvent;

/// <summary>A person's sight of the horse was taken back.</summary>
public sealed record AccessRevoked(Guid GrantId, Guid HorseId, string? Reason, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

/// <summary>A link was made that shows this horse to whoever holds it.</summary>
/// <param name="PersonId">For whom it was made, where that is known.</param>
/// <param name="BindsToDevice">The first device that opens it is the only one.</param>
public sealed record LinkMade(
    Guid LinkId,
    Guid HorseId,
    Guid? PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    bool BindsToDevice,
    DateTimeOffset EndsAt,
    DateTimeOffset TakenAt,
    Guid By
) : ISharingEvent;

/// <summary>The link was opened for the first time, and from now on it opens there only.</summary>
/// <param name="Device">SHA-256 of the secret that was left on that device, hexadecimal.</param>
public sealed record LinkBound(Guid LinkId, Guid HorseId, string Device, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

/// <summary>A link that showed the horse was taken back.</summary>
public sealed record LinkRevoked(Guid LinkId, Guid HorseId, string? Reason, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

/// <summary>Somebody with whom the horse is shared wrote something about it. The words are a document that can be erased.</summary>
public sealed record Commented(Guid CommentId, Guid HorseId, Guid? GrantId, Guid? LinkId, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

/// <summary>What was shared of a second registration of this horse holds for this one from now on; its grants and links follow as they
/// were given.</summary>
public sealed record SharingMerged(Guid DuplicateId, Guid HorseId, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

/// <summary>This was sight of a second registration: it goes on with the other, and nothing is given or taken back here any more.</summary>
public sealed record SharingMergedAway(Guid HorseId, Guid IntoId, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

public enum SharedWith
{
    Owner,
    Rider,
    Veterinarian,
    Physiotherapist,
    AnotherPractice,
}

/// <summary>How much is seen; each shows what those before it show.</summary>
public enum SharedScope
{
    /// <summary>The finding in a sentence, the next check, one picture.</summary>
    Summary,

    /// <summary>Every measure over time.</summary>
    Trends,

    /// <summary>Every visit with its numbers, and the saddle's settings.</summary>
    Record,
}
