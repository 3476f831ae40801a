namespace BackHistory.History.Practices;

/// <summary>A place where horses stand.</summary>
public sealed record Yard(Guid Id, string Name, string? Town) : IVersionedDocument<Yard>
{
    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <summary>Street and number, or how it is found.</summary>
    public string? Address { get; init; }

    /// <summary>Degrees north of the equator (WGS 84); null where the place is not known.</summary>
    public double? Latitude { get; init; }

    /// <summary>Degrees east of Greenwich (WGS 84); null where the place is not known.</summary>
    public double? Longitude { get; init; }

    /// <summary>Not offered any more: no horse is moved there, and what names it goes on naming it.</summary>
    public bool Removed { get; init; }

    /// <inheritdoc/>
    public Yard At(long version) => this with { Version = version };

    /// <summary>Its name and whatever else helps to find it, in one line.</summary>
    public string InOneLine() => string.Join(", ", new[] { Name, Address, Town }.Where(t => !string.IsNullOrWhiteSpace(t)));
}
