using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Application.Letters;

/// <summary>A letter before it is put into words.</summary>
/// <param name="Calendar">The appointment that goes with it.</param>
public sealed record LetterDraft(LetterModel Model, LetterCalendar? Calendar = null)
{
    /// <summary>With one sentence more.</summary>
    public LetterDraft WithSentence(string sentence) => this with { Model = Model with { Sentences = [.. Model.Sentences, sentence] } };
}
