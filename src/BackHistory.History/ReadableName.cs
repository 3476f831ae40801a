using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace BackHistory.History;

/// <summary>Whether a name can be read: of signs that turn, join, fill or mark others, and of spaces, none is left on the paper.</summary>
public static class ReadableName
{
    /// <summary>Letters by their category, and blank all the same: fillers of Hangul, and the cell of Braille without a dot.</summary>
    private static readonly int[] Blank = [0x115F, 0x1160, 0x2800, 0x3164, 0xFFA0];

    /// <summary>True where nothing of it would be seen, or where it turns around what stands beside it. Signs that join letters stand in
    /// names of many scripts, and are kept.</summary>
    public static bool IsMissing([NotNullWhen(false)] string? name) =>
        name is null || name.EnumerateRunes().All(Unseen) || name.EnumerateRunes().Any(Turns);

    private static bool Unseen(Rune rune) =>
        Rune.IsWhiteSpace(rune)
        || Blank.Contains(rune.Value)
        || Rune.GetUnicodeCategory(rune)
            is UnicodeCategory.Control
                or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.NonSpacingMark
                or UnicodeCategory.EnclosingMark
                or UnicodeCategory.PrivateUse
                or UnicodeCategory.Surrogate
                or UnicodeCategory.OtherNotAssigned;

    /// <summary>Embeddings, overrides and isolates (Unicode Standard Annex 9, 2): what is not closed goes on behind the name.</summary>
    private static bool Turns(Rune rune) => rune.Value is (>= 0x202A and <= 0x202E) or (>= 0x2066 and <= 0x2069);
}
