namespace BackHistory.Service.Horses;

public sealed record HorseCreated(Guid Id, long Version);
