namespace BackHistory.Service.Saddles;

public sealed record MoveRequest(Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset? At);
