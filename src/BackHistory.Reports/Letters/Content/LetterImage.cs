using BackHistory.Reports.Charts;

namespace BackHistory.Reports.Letters.Content;

/// <summary>A picture of a letter.</summary>
/// <param name="ContentId">Without angle brackets; unique in the letter.</param>
/// <param name="Width">CSS pixels; the PNG may have twice as many dots.</param>
public sealed record LetterImage(string ContentId, byte[] Png, string AltText, int Width, int Height)
{
    /// <summary>Charts are PNG; the practice's own picture may be a JPEG.</summary>
    public string MediaType { get; init; } = "image/png";

    /// <summary>A chart at twice its dots, for sharp screens.</summary>
    public static LetterImage From(string name, Chart chart) =>
        new($"{name}@letter", chart.ToPng(2), chart.AltText, chart.Width, chart.Height);
}
