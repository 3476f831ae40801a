namespace BackHistory.Store;

/// <param name="More">What tells it from others of the same name.</param>
public sealed record Found(FoundKind Kind, Guid Id, string Title, string? More);
