namespace BackHistory.Service.Reminders;

/// <param name="Source">The practice's own words; null returns to those that come with the program.</param>
public sealed record LetterTemplateRequest(string? Source);
