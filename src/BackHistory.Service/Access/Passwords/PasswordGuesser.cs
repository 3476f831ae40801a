namespace BackHistory.Service.Access.Passwords;

/// <summary>
/// How many tries somebody needs who knows how people make passwords: the cheapest way to put the password together from common
/// passwords, near words, rows of keys, repeats, years and single letters (the idea of D. L. Wheeler, zxcvbn, USENIX Security 2016, in
/// its simplest form).
/// </summary>
internal static class PasswordGuesser
{
    /// <summary>A letter that follows from nothing counts as one of ten: lower than it is, so that the estimate errs on the cautious
    /// side.</summary>
    private const double Letter = 10;

    private const int LongestPart = 40;

    private static readonly string[] Rows =
    [
        "qwertyuiop",
        "qwertzuiop",
        "asdfghjkl",
        "zxcvbnm",
        "yxcvbnm",
        "1234567890",
        "abcdefghijklmnopqrstuvwxyz",
        "1qaz2wsx3edc4rfv5tgb",
    ];

    private static readonly Lazy<Dictionary<string, int>> Common = new(Read);

    /// <param name="near">Words that a guesser tries first: the person's own, the service's.</param>
    public static double Guesses(string password, IReadOnlyCollection<string> near)
    {
        var text = password.ToLowerInvariant();
        var own = near.Select(w => w.ToLowerInvariant()).Where(w => w.Length > 2).ToHashSet(StringComparer.Ordinal);
        // The cheapest way to reach each place, by how many parts it took: their order is guessed too.
        var best = new (double Guesses, int Parts)[text.Length + 1];
        best[0] = (1, 0);
        for (var end = 1; end <= text.Length; end++)
        {
            best[end] = (double.PositiveInfinity, 0);
            for (var from = Math.Max(0, end - LongestPart); from < end; from++)
            {
                var (sofar, parts) = best[from];
                var cost = sofar * Part(text[from..end], own) * (parts + 1);
                if (cost < best[end].Guesses)
                    best[end] = (cost, parts + 1);
            }
        }

        return best[^1].Guesses;
    }

    private static double Part(string part, HashSet<string> own)
    {
        var guesses = part.Length == 1 ? Letter : Math.Pow(Letter, part.Length);
        if (part.Length < 3)
            return guesses;
        foreach (var word in (string[])[part, Plain(part)])
        {
            // Something written another way costs another try.
            var written = word == part ? 1 : 2;
            if (own.Contains(word))
                guesses = Math.Min(guesses, written * 2);
            if (Common.Value.TryGetValue(word, out var rank))
                guesses = Math.Min(guesses, written * (rank + 1));
        }

        if (IsRow(part))
            guesses = Math.Min(guesses, 20 * part.Length);
        if (part.Length == 4 && part[0] is '1' or '2' && part.All(char.IsAsciiDigit) && part[..2] is "19" or "20")
            guesses = Math.Min(guesses, 150);
        if (Repeated(part) is { } once)
            guesses = Math.Min(guesses, Part(once, own) * (part.Length / once.Length));
        return guesses;
    }

    /// <summary>Letters that were written as digits and signs.</summary>
    private static string Plain(string text) =>
        string.Create(
            text.Length,
            text,
            static (to, from) =>
            {
                for (var i = 0; i < from.Length; i++)
                    to[i] = from[i] switch
                    {
                        '0' => 'o',
                        '1' or '!' => 'i',
                        '3' => 'e',
                        '4' or '@' => 'a',
                        '5' or '$' => 's',
                        '7' => 't',
                        _ => from[i],
                    };
            }
        );

    private static bool IsRow(string part)
    {
        var backwards = new string([.. part.Reverse()]);
        return Array.Exists(Rows, row => row.Contains(part, StringComparison.Ordinal) || row.Contains(backwards, StringComparison.Ordinal));
    }

    private static string? Repeated(string part)
    {
        for (var length = 1; length <= part.Length / 2; length++)
        {
            if (part.Length % length != 0)
                continue;
            var repeats = true;
            for (var i = length; repeats && i < part.Length; i++)
                repeats = part[i] == part[i - length];
            if (repeats)
                return part[..length];
        }

        return null;
    }

    private static Dictionary<string, int> Read()
    {
        using var stream = typeof(PasswordGuesser).Assembly.GetManifestResourceStream("common-passwords")!;
        using var reader = new StreamReader(stream);
        var ranks = new Dictionary<string, int>(StringComparer.Ordinal);
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0 && line[0] != '#')
                ranks.TryAdd(line, ranks.Count + 1);
        }

        return ranks;
    }
}
