namespace BackHistory.History.Practices;

/// <summary>How a practice is reached and what its picture is: what stands on its letters and papers. Kept outside the events, because an
/// address is a person's too and must be erasable.</summary>
/// <param name="Id">The practice's.</param>
public sealed record PracticeContact(Guid Id) : IVersionedDocument<PracticeContact>
{
    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <summary>As it stands on a letter, in one line.</summary>
    public string? Address { get; init; }

    public string? Phone { get; init; }

    /// <summary>Where answers to letters go; null where they go to the address that letters come from.</summary>
    public string? ReplyTo { get; init; }

    public PracticePicture? Picture { get; init; }

    /// <inheritdoc/>
    public PracticeContact At(long version) => this with { Version = version };

    /// <summary>How it is reached, in one line; empty where nothing is known.</summary>
    public string InOneLine() => string.Join(" · ", new[] { Address, Phone, ReplyTo }.Where(t => !string.IsNullOrWhiteSpace(t)));
}
