namespace BackHistory.Reports.Letters.Content;

/// <summary>The three answers of an owner's letter, as signed links.</summary>
public sealed record LetterAnswers(string BookUrl, string LaterUrl, string NotNeededUrl);
