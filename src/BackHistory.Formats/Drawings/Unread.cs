namespace BackHistory.Formats.Drawings;

/// <summary>Why a table could not be read, and in which of its lines.</summary>
public sealed record Unread(string Code, string Message, string? Place = null);
