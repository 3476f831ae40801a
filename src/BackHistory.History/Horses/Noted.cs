namespace BackHistory.History.Horses;

/// <summary>Something noted of the horse beside its visits.</summary>
public sealed record Noted(NotedAs What, DateOnly? From, DateOnly? Until, bool Stands = true);
