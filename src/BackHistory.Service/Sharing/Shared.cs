namespace BackHistory.Service.Sharing;

public sealed record Shared(Guid Id, long Version, string? Url = null);
