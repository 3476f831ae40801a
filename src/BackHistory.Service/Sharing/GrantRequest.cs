using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <param name="Until">The last day, or until it is taken back.</param>
public sealed record GrantRequest(Guid PersonId, SharedWith Role, SharedScope? Scope, bool? MayComment, DateOnly? Until);
