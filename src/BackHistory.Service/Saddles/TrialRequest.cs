namespace BackHistory.Service.Saddles;

public sealed record TrialRequest(Guid HorseId, DateOnly? Until, DateTimeOffset? From);
