using BackHistory.History.Files;

namespace BackHistory.History.Profiles;

public sealed record FileOn(AttachedFile File, Guid? VisitId, DateTimeOffset TakenAt);
