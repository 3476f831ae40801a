namespace BackHistory.Service.Saddles;

public sealed record TrialEndRequest(bool Kept, string? Reason, DateTimeOffset? At);
