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
)
{
    /// <summary>Kinds of letters that this person asked not to get any more.</summary>
    public IReadOnlyList<LetterKind> Stopped { get; init; } = [];
}
