using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

/// <param name="Version">Counts the practice's own versions; 0 while it has none.</param>
/// <param name="Shipped">The words that come with the program.</param>
public sealed record LetterTemplateAnswer(LetterKind Kind, string Language, bool Own, int Version, string Source, string Shipped);
