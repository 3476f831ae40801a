using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>The words of a letter as they are typed into a page.</summary>
public sealed class LetterWordsForm : TypedForm
{
    public string? Subject { get; set; }

    public string? Words { get; set; }

    /// <summary>In their place, of a letter that only the template language can say.</summary>
    public string? Source { get; set; }
}
