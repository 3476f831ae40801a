namespace BackHistory.History.Profiles;

public sealed record SaddleOnTrial(Guid SaddleId, Guid TrialId, DateTimeOffset From, DateOnly? Until);
