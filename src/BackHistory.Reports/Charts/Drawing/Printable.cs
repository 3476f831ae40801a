using System.Text;

namespace BackHistory.Reports.Charts.Drawing;

internal static class Printable
{
    /// <summary>
    /// The text on one line, without what no font draws and no XML may hold: control characters become spaces, half surrogates the
    /// replacement character. A person's or horse's name can contain anything.
    /// </summary>
    public static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            // EnumerateRunes already turns a lone surrogate into U+FFFD; U+FFFE and U+FFFF are valid runes but not XML.
            if (Rune.IsControl(rune) || rune.Value is 0x2028 or 0x2029)
                clean.Append(' ');
            else if ((rune.Value & 0xFFFE) != 0xFFFE)
                clean.Append(rune.ToString());
        }
        return clean.ToString().Trim();
    }
}
