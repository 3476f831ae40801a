namespace BackHistory.History.Practices;

/// <summary>A place where horses stand.</summary>
public sealed record Yard(Guid Id, string Name, string? Town) : IVersionedDocument<Yard>
{
    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <inheritdoc/>
    public Yard At(long version) => this with { Version = version };
}
