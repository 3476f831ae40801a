using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

/// <inheritdoc cref="OwnerRequest"/>
public sealed record CareRoleRequest(Guid PersonId, CareRole Role, DateTimeOffset? From);
