using System.Text;

namespace BackHistory.History;

/// <summary>
/// What a text can hold that somebody enters, whatever it says: signs that can be seen or that part words and lines, in an order that is
/// the one in which they are read, up to a length that a hand types. What each kind of text can be besides is said where it is decided.
/// </summary>
public static class EnteredText
{
    /// <summary>The longest of all, in UTF-16 units: a passkey's answer, which no hand types.</summary>
    public const int Longest = 50_000;

    private static readonly Refused TooLong = new(
        "too-long",
        $"A text has more than {Longest} letters. Nothing was saved; shorten it, or attach a document."
    );

    private static readonly Refused Unseen = new(
        "unreadable",
        "A text holds a character that is no sign of any script: a control character or none at all. Nothing was saved; type it again."
    );

    private static readonly Refused Turned = new(
        "unreadable",
        "A text holds a character that turns around what stands beside it. Nothing was saved; type it again."
    );

    /// <summary>Why it cannot be taken; null when it can.</summary>
    public static Refused? Problem(ReadOnlySpan<char> text)
    {
        if (text.Length > Longest)
            return TooLong;
        foreach (var rune in text.EnumerateRunes())
        {
            if (IsControl(rune) || IsNone(rune))
                return Unseen;
            if (Turns(rune))
                return Turned;
        }

        return null;
    }

    private static bool IsControl(Rune rune) => rune.Value is not ('\t' or '\n' or '\r') && Rune.IsControl(rune);

    /// <summary>Noncharacters (The Unicode Standard, 23.7).</summary>
    private static bool IsNone(Rune rune) => (rune.Value & 0xFFFE) == 0xFFFE || rune.Value is >= 0xFDD0 and <= 0xFDEF;

    /// <summary>Embeddings and overrides (Unicode Standard Annex 9, 2.1 and 2.2), which it advises to leave for isolates.</summary>
    private static bool Turns(Rune rune) => rune.Value is >= 0x202A and <= 0x202E;
}
