namespace BackHistory.Service.Reminders;

/// <param name="Source">Words to try; null takes those in force.</param>
/// <param name="HorseId">Null takes the horse that last had such a reason.</param>
public sealed record LetterPreviewRequest(string? Source = null, Guid? HorseId = null);
