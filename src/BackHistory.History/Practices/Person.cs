using BackHistory.History.Reminders;

namespace BackHistory.History.Practices;

/// <summary>A person, kept outside the events so that it can be erased.</summary>
/// <param name="Language">Of letters, for example <c>en</c>.</param>
public sealed record Person(
    Guid Id,
    string Name,
    string? Email,
    string? Phone,
    string? Address,
    PersonRole Role,
    string Language = "en",
    string? TimeZone = null
) : IVersionedDocument<Person>
{
    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <summary>Kinds of letters that this person asked not to get any more.</summary>
    public IReadOnlyList<LetterKind> Stopped { get; init; } = [];

    /// <summary>Everything they said when they were asked, in the order in which it was noted.</summary>
    public IReadOnlyList<Consent> Consents { get; init; } = [];

    /// <inheritdoc/>
    public Person At(long version) => this with { Version = version };
}
