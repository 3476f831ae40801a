using System.Globalization;
using System.Text;

namespace BackHistory.History;

/// <summary>Whether a name can be read: of signs that turn, join or part others, and of spaces, none is left on the paper.</summary>
public static class ReadableName
{
    /// <summary>True where nothing of it would be seen. Signs that join letters stand in names of many scripts, and are kept.</summary>
    public static bool IsMissing(string? name) => name is null || name.EnumerateRunes().All(Unseen);

    private static bool Unseen(Rune rune) =>
        Rune.IsWhiteSpace(rune)
        || Rune.GetUnicodeCategory(rune)
            is UnicodeCategory.Control
                or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.OtherNotAssigned;
}
