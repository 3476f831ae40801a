namespace BackHistory.Service.Sharing;

public sealed record TakeBackRequest(string? Reason);
