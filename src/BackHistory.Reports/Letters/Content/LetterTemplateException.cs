namespace BackHistory.Reports.Letters.Content;

/// <summary>The template cannot be used; the message says why in words for the person who edits it.</summary>
/// <param name="line">Counted from 1; 0 when no single line is to blame.</param>
public sealed class LetterTemplateException(string message, int line) : Exception(line > 0 ? $"Line {line}: {message}" : message)
{
    public int Line { get; } = line;
}
