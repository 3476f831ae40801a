using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>What a link in a letter lets its reader do.</summary>
/// <param name="PersonId">To whom the letter was; null of a link to answer that an earlier release made.</param>
/// <param name="Language">Of the letter: the page behind the link speaks the same.</param>
/// <param name="Move">To choose another day for the visit that is booked.</param>
public sealed record AnswerLink(
    string Practice,
    Guid? ReminderId,
    Answer? Answer,
    Guid? PersonId,
    LetterKind? Stop,
    string Language = "en",
    bool Move = false
);
