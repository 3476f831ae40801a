using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

public sealed record VisitCorrectionRequest(DateTimeOffset TakenAt, Guid? By, string Method, VisitConditions? Conditions, string Reason);
