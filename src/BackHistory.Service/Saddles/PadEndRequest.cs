namespace BackHistory.Service.Saddles;

public sealed record PadEndRequest(string Reason, DateTimeOffset? At);
