using System.Text;
using BackHistory.Shape.Wire;
using BackHistory.Trends.Lines;

namespace BackHistory.Service.Verbs;

/// <summary>The service's verbs: JSON Lines in, JSON Lines out, in order; a blank line is skipped, a refused line is still one
/// answer.</summary>
public static class Verb
{
    private const int AllAnswered = 0;
    private const int SomeRefused = 1;
    private const int WrongCall = 2;

    /// <summary>A line longer than this is refused unread, so that a stream without line ends cannot fill the memory.</summary>
    private const int LongestLine = 64 << 20;

    private static readonly Dictionary<string, Func<string, int, (string? Json, bool Refused)>> Known = new(StringComparer.Ordinal)
    {
        ["measure"] = MeasureLine.Answer,
        ["trend"] = TrendLine.Answer,
        ["repeatability"] = RepeatabilityLine.Answer,
        ["decide"] = DecideLine.Answer,
    };

    /// <summary>Answers once, when all lines are read.</summary>
    private const string Learn = "learn";

    /// <returns>0 when every line was answered, 1 when any was refused, 2 when the call itself is wrong.</returns>
    public static async Task<int> Run(string[] args, Stream input, Stream output, TextWriter error)
    {
        if (args is not [var verb, var source] || (!Known.ContainsKey(verb) && verb != Learn))
        {
            await error.WriteLineAsync($"usage: {string.Join('|', Known.Keys.Append(Learn))} FILE|-");
            return WrongCall;
        }

        try
        {
            await using var from = source == "-" ? input : File.OpenRead(source);
            var learning = new LearnLine();
            var all = await Answer(from, output, verb == Learn ? Taken : Known[verb], verb == Learn ? learning.Answer : null);
            return all ? AllAnswered : SomeRefused;

            (string?, bool) Taken(string line, int number) => learning.Take(line, number) is { } no ? (no, true) : (null, false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            await error.WriteLineAsync(e.Message);
            return WrongCall;
        }
    }

    /// <param name="answer">To one line; no JSON where the line is answered with the others at the end.</param>
    /// <param name="atEnd">The answer to all lines together; null without one.</param>
    private static async Task<bool> Answer(
        Stream from,
        Stream to,
        Func<string, int, (string? Json, bool Refused)> answer,
        Func<string>? atEnd
    )
    {
        using var reader = new StreamReader(from, new UTF8Encoding(false), detectEncodingFromByteOrderMarks: true, 1 << 16);
        await using var writer = new StreamWriter(to, new UTF8Encoding(false), 1 << 16);
        writer.NewLine = "\n";
        var all = true;
        for (var line = 1; await ReadLine(reader) is { } text; line++)
        {
            if (string.IsNullOrWhiteSpace(text))
                continue;
            var (json, refused) = answer(text, line);
            all &= !refused;
            if (json is not null)
                await writer.WriteLineAsync(json);
            // Whoever waits at the other end of a pipe gets each answer when it is there.
            if (!reader.BaseStream.CanSeek)
                await writer.FlushAsync();
        }

        if (atEnd is not null)
            await writer.WriteLineAsync(atEnd());
        return all;
    }

    /// <summary>A line without its end, cut off past the limit: what is cut is no JSON and is refused as such.</summary>
    private static async Task<string?> ReadLine(StreamReader reader)
    {
        var text = new StringBuilder();
        var one = new char[1];
        while (await reader.ReadAsync(one.AsMemory()) == 1)
        {
            if (one[0] == '\n')
                return text.ToString().TrimEnd('\r');
            if (text.Length < LongestLine)
                text.Append(one[0]);
        }

        return text.Length == 0 ? null : text.ToString();
    }
}
