namespace BackHistory.Reports.Letters.Content;

/// <summary>The content lacks what this kind of letter needs, or holds an address that is none.</summary>
public sealed class LetterContentException(string message) : Exception(message);
