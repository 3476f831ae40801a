namespace BackHistory.Reports.Letters.Content;

/// <summary>A letter ready to be put into an e-mail: a subject without personal data, the same content as HTML and as text, and its
/// pictures.</summary>
/// <param name="Html">Shows its pictures by <c>cid:</c>; everything else is in it.</param>
/// <param name="Text">Lines of at most 76 characters, but for links.</param>
public sealed record ComposedLetter(string Subject, string Html, string Text, IReadOnlyList<LetterImage> Images);
