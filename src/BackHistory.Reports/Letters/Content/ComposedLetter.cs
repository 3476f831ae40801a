using BackHistory.Reports.Charts;

namespace BackHistory.Reports.Letters.Content;

/// <summary>A letter ready to be put into an e-mail: a subject without personal data, the same content as HTML and as text, and its
/// pictures.</summary>
/// <param name="Html">Shows its pictures by <c>cid:</c>; everything else is in it.</param>
/// <param name="Text">Lines of at most 76 characters, but for links.</param>
public sealed record ComposedLetter(string Subject, string Html, string Text, IReadOnlyList<LetterImage> Images);

/// <summary>A picture of a letter.</summary>
/// <param name="ContentId">Without angle brackets; unique in the letter.</param>
/// <param name="Width">CSS pixels; the PNG may have twice as many dots.</param>
public sealed record LetterImage(string ContentId, byte[] Png, string AltText, int Width, int Height)
{
    /// <summary>A chart at twice its dots, for sharp screens.</summary>
    public static LetterImage Of(string name, Chart chart) =>
        new($"{name}@letter", chart.ToPng(2), chart.AltText, chart.Width, chart.Height);
}
