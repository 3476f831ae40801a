using System.Text;

namespace BackHistory.Reports.Calendars;

/// <summary>
/// Lines of iCalendar: at most 75 octets (RFC 5545, section 3.1), never cut inside a character. The library counts characters, so that a
/// line of umlauts comes out too long.
/// </summary>
internal static class CalendarLines
{
    const int Most = 75;

    public static string Fold(string text)
    {
        var unfolded = text.Replace("\r\n", "\n", StringComparison.Ordinal)
            .Replace("\n ", "", StringComparison.Ordinal)
            .Replace("\n\t", "", StringComparison.Ordinal);
        var folded = new StringBuilder(text.Length + 64);
        foreach (var line in unfolded.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            Fold(line, folded);
        return folded.ToString();
    }

    static void Fold(string line, StringBuilder folded)
    {
        var octets = 0;
        foreach (var rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > Most)
            {
                folded.Append("\r\n ");
                octets = 1;
            }
            folded.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }
        folded.Append("\r\n");
    }
}
