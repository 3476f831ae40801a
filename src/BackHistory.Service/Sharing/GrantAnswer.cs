using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

public sealed record GrantAnswer(
    Guid Id,
    Guid PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    DateOnly? Until,
    DateTimeOffset GivenAt,
    Guid GivenBy,
    DateTimeOffset? TakenBackAt,
    bool Holds
);
