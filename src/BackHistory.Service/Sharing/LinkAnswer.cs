using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <param name="Url">Only for those who may share.</param>
public sealed record LinkAnswer(
    Guid Id,
    Guid? PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    bool BindsToDevice,
    DateTimeOffset? BoundAt,
    DateTimeOffset EndsAt,
    DateTimeOffset MadeAt,
    Guid MadeBy,
    DateTimeOffset? TakenBackAt,
    bool Holds,
    string? Url
);
