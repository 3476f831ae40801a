using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Application.Letters;

/// <summary>A letter before it is put into words.</summary>
/// <param name="Calendar">The appointment that goes with it.</param>
public sealed record LetterDraft(LetterModel Model, LetterCalendar? Calendar = null);

/// <summary>Gathers what a letter says.</summary>
public interface ILetterDrafts
{
    /// <returns>Null when what the letter was about is gone.</returns>
    Task<LetterDraft?> Draft(string practice, Letter letter, Person reader, CancellationToken ct);
}
