using System.Runtime.CompilerServices;
using System.Text;

namespace BackHistory.Application.Archives;

/// <summary>Text by lines, from a sender whom nobody knows: a few bytes unpack to a line of gigabytes, and it is not read to its
/// end.</summary>
internal static class ArchiveLines
{
    /// <summary>An archive ends in one empty line; somebody who edited it by hand leaves a few.</summary>
    private const int MostEmpty = 1000;

    /// <summary>Lines with something in them, and where they stand.</summary>
    /// <param name="longest">Letters.</param>
    /// <exception cref="InvalidDataException">A line is longer, or too many hold nothing; what came before was given.</exception>
    public static async IAsyncEnumerable<(int Number, string Text)> Read(
        Stream stream,
        int longest,
        [EnumeratorCancellation] CancellationToken ct
    )
    {
        using var reader = new StreamReader(stream, leaveOpen: true);
        var buffer = new char[1 << 14];
        var line = new StringBuilder();
        var (number, empty) = (0, 0);
        for (int read; (read = await reader.ReadAsync(buffer, ct)) > 0; )
        {
            for (var from = 0; from < read; )
            {
                var end = Array.IndexOf(buffer, '\n', from, read - from);
                var length = (end < 0 ? read : end) - from;
                if (line.Length + length > longest)
                    throw new InvalidDataException("A line is longer than any event.");
                line.Append(buffer, from, length);
                from += length + 1;
                if (end < 0)
                    continue;
                number++;
                if (Taken(line) is { Length: > 0 } text)
                    yield return (number, text);
                else if (++empty > MostEmpty)
                    throw new InvalidDataException("It holds more empty lines than any archive.");
            }
        }

        if (line.Length > 0)
            yield return (number + 1, Taken(line));
    }

    private static string Taken(StringBuilder line)
    {
        var text = line.ToString().TrimEnd('\r');
        line.Clear();
        return text;
    }
}
