namespace BackHistory.Service.Saddles;

public sealed record TakeOffRequest(Guid HorseId, string Reason, DateTimeOffset? At = null);
