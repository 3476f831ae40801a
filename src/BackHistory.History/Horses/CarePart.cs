namespace BackHistory.History.Horses;

public sealed record CarePart(Guid PersonId, CareRole Role);
