namespace BackHistory.History.Practices;

public sealed record CountedVisit(Guid HorseId, Guid VisitId);
