namespace BackHistory.Service.Horses;

/// <inheritdoc cref="OwnerRequest"/>
public sealed record YardMoveRequest(Guid? YardId, DateTimeOffset? From);
