namespace BackHistory.Store.Imports;

public sealed record KnownHorse(Guid Id, string Name, DateOnly? Foaled, Guid? OwnerId);
