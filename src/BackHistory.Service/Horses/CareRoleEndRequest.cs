using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

public sealed record CareRoleEndRequest(Guid PersonId, CareRole Role, DateTimeOffset? At);
