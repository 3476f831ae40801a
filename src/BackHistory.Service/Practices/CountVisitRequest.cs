namespace BackHistory.Service.Practices;

public sealed record CountVisitRequest(Guid HorseId, Guid VisitId);
