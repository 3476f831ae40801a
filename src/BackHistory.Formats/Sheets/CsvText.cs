using System.Text;

namespace BackHistory.Formats.Sheets;

/// <summary>A separated table's letters and its separator, before it is read.</summary>
internal static class CsvText
{
    private const int Looked = 20;

    private static readonly Encoding Windows = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    /// <summary>The table in UTF-8, and what it was written in; null where it is no text.</summary>
    public static (byte[] Utf8, SheetLetters Letters)? Decode(byte[] bytes)
    {
        if (bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]))
            return Checked(Strict(new UnicodeEncoding(bigEndian: false, byteOrderMark: true, throwOnInvalidBytes: true), bytes[2..]));
        if (bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
            return Checked(Strict(new UnicodeEncoding(bigEndian: true, byteOrderMark: true, throwOnInvalidBytes: true), bytes[2..]));
        if (Strict(new UTF8Encoding(false, throwOnInvalidBytes: true), bytes) is { } utf8)
            return HasControls(utf8) ? null : (bytes, SheetLetters.Utf8);
        var text = Windows.GetString(bytes);
        // The five bytes without a letter come out as control characters: then it is something else.
        return HasControls(text) || text.AsSpan().ContainsAnyInRange('\u0080', '\u009F')
            ? null
            : (Encoding.UTF8.GetBytes(text), SheetLetters.Windows1252);

        static (byte[], SheetLetters)? Checked(string? text) =>
            text is null || HasControls(text) ? null : (Encoding.UTF8.GetBytes(text), SheetLetters.Utf16);
    }

    /// <summary>The mark that stands equally often in most of the first lines, outside of quotes; titles above a table have none.</summary>
    public static char Separator(byte[] utf8)
    {
        var lines = FirstLines(Encoding.UTF8.GetString(utf8, 0, Math.Min(utf8.Length, 1 << 16)));
        return ((ReadOnlySpan<char>)[';', '\t', ',']).ToArray().MaxBy(mark => Steadiness(lines, mark));
    }

    private static int Steadiness(List<string> lines, char mark) =>
        lines.Select(l => l.Count(c => c == mark)).Where(n => n > 0).CountBy(n => n).Select(n => n.Value).DefaultIfEmpty(0).Max();

    /// <summary>Without what stands between quotes.</summary>
    private static List<string> FirstLines(string text)
    {
        var lines = new List<string>();
        var line = new StringBuilder();
        var quoted = false;
        foreach (var c in text)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == '\n' && !quoted)
            {
                if (line.ToString().Trim('\r', ' ') is { Length: > 0 } full)
                    lines.Add(full);
                line.Clear();
                if (lines.Count == Looked)
                    return lines;
            }
            else if (!quoted)
                line.Append(c);
        }

        if (line.ToString().Trim('\r', ' ') is { Length: > 0 } last)
            lines.Add(last);
        return lines;
    }

    private static string? Strict(Encoding encoding, byte[] bytes)
    {
        try
        {
            return encoding.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            return null;
        }
    }

    // A control character is a sign of some other file; a wrong letter would enter as a wrong name.
    private static bool HasControls(string text) => text.AsSpan().ContainsAnyInRange('\0', '\b');
}
