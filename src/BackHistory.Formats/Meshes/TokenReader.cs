using System.Buffers.Text;

namespace BackHistory.Formats.Meshes;

/// <summary>Words and numbers of a text file, read from its bytes.</summary>
internal ref struct TokenReader(ReadOnlySpan<byte> text)
{
    private ReadOnlySpan<byte> rest = text;

    internal readonly bool IsEmpty => rest.IsEmpty;

    internal readonly ReadOnlySpan<byte> Rest => rest;

    /// <summary>The next line without its end; the reader stands behind it.</summary>
    internal ReadOnlySpan<byte> Line()
    {
        var end = rest.IndexOf((byte)'\n');
        var line = end < 0 ? rest : rest[..end];
        rest = end < 0 ? default : rest[(end + 1)..];
        return line.TrimEnd((byte)'\r');
    }

    /// <summary>The next word, empty at the end.</summary>
    internal ReadOnlySpan<byte> Word()
    {
        var start = 0;
        while (start < rest.Length && rest[start] <= ' ')
            start++;
        var end = start;
        while (end < rest.Length && rest[end] > ' ')
            end++;
        var word = rest[start..end];
        rest = rest[end..];
        return word;
    }

    internal double Number() => Number(Word());

    internal static double Number(ReadOnlySpan<byte> word)
    {
        if (word.Length > 1 && word[0] == '+')
            word = word[1..];
        if (Utf8Parser.TryParse(word, out double value, out var used) && used == word.Length)
            return value;
        throw ImportException.Unreadable("The mesh has something else where a number is due.");
    }

    internal static long Whole(ReadOnlySpan<byte> word)
    {
        if (Utf8Parser.TryParse(word, out long value, out var used) && used == word.Length)
            return value;
        throw ImportException.Unreadable("The mesh has something else where a whole number is due.");
    }
}
