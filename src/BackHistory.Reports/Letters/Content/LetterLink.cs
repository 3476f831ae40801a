namespace BackHistory.Reports.Letters.Content;

public sealed record LetterLink(string Text, string Url);
