using BackHistory.History.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>Sealed links in letters: whoever holds one can do one thing, and see nothing else.</summary>
public interface ILetterLinks
{
    /// <summary>To answer a reminder.</summary>
    string Answer(string practice, Guid reminderId, Answer answer, string language = "en");

    /// <summary>To stop letters of a kind.</summary>
    string Stop(string practice, Guid personId, LetterKind kind, string language = "en");
}
