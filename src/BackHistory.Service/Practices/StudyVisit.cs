namespace BackHistory.Service.Practices;

public sealed record StudyVisit(Guid HorseId, Guid VisitId, int Times);
