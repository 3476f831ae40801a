namespace BackHistory.History.Practices;

/// <summary>A place where horses stand.</summary>
public sealed record Yard(Guid Id, string Name, string? Town);
