using System.Text;
using System.Text.RegularExpressions;

namespace BackHistory.Store.Erasing;

/// <summary>
/// What a person is called, looked for as whole words: "Ann" stands in "Ann's mare" and not in "cannot". Who is found so is offered to
/// somebody who can read, and nothing is ever erased by it: a name is many people's.
/// </summary>
public sealed class NameWords
{
    /// <summary>Shorter words are found everywhere and name nobody.</summary>
    public const int Shortest = 3;

    private const int Most = 200;

    private readonly Regex? _regex;

    /// <param name="names">The name, addresses and numbers of one person; short and empty ones are left out.</param>
    public NameWords(IEnumerable<string?> names)
    {
        Names =
        [
            .. names.OfType<string>().Select(n => n.Trim()).Where(n => n.Length >= Shortest).Distinct(StringComparer.OrdinalIgnoreCase),
        ];
        if (Names.Count == 0)
            return;
        var any = string.Join('|', Names.Select(n => string.Join(@"\s+", Words(n).Select(Regex.Escape))));
        _regex = new Regex(
            $@"(?<![\p{{L}}\p{{M}}\p{{N}}])(?:{any})(?![\p{{L}}\p{{M}}\p{{N}}])",
            RegexOptions.IgnoreCase | RegexOptions.CultureInvariant,
            Regex.InfiniteMatchTimeout
        );
    }

    public IReadOnlyList<string> Names { get; }

    public bool StandIn(string? text) => text is not null && _regex?.IsMatch(text) == true;

    /// <summary>The words around the first place, so that somebody can judge without opening it.</summary>
    public string Around(string text)
    {
        var at = _regex?.Match(text) is { Success: true } match ? match.Index : 0;
        var from = Math.Max(0, Math.Min(at - Most / 2, text.Length - Most));
        return $"{(from > 0 ? "…" : "")}{text.AsSpan(from, Math.Min(Most, text.Length - from))}{(from + Most < text.Length ? "…" : "")}";
    }

    /// <summary>
    /// The same as a regular expression of PostgreSQL, for text and for whole rows as text: there quotation marks and line ends of JSON
    /// stand with a backslash, and bytes beyond ASCII as three octal digits (two backslashes before each). It asks nothing of the
    /// database's locale but which letters are letters; bytes beyond ASCII beside a name count as none there, so that "Ann’s" in a file
    /// is told of, and "Annä" once too often.
    /// </summary>
    internal string ForPostgres =>
        string.Join('|', Names.Select(n => $@"{Before}{string.Join(Gap, Words(n).Select(ForPostgresOf))}{After}"));

    private const string Before = @"(?:^|[^[:alnum:]]|\\[bfnrt]|\\[0-7]{3}|\\u[0-9a-f]{4})";

    private const string After = @"(?:$|[^[:alnum:]])";

    private const string Gap = @"(?:\s|\\+[nrt]|\\+01[1-5])+";

    private static string[] Words(string name) => name.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);

    private static string ForPostgresOf(string word) => string.Concat(word.EnumerateRunes().Select(ForPostgresOf));

    private static string ForPostgresOf(Rune rune) =>
        rune.Value switch
        {
            '"' or '\\' => @"[\\""]+",
            < 128 when Rune.IsLetterOrDigit(rune) => rune.ToString(),
            < 128 => $@"\{rune}",
            _ => $"(?:{string.Join('|', Cases(rune).SelectMany(r => new[] { $"{r}", Octal(r) }))})",
        };

    private static IEnumerable<Rune> Cases(Rune rune) => new[] { Rune.ToLowerInvariant(rune), Rune.ToUpperInvariant(rune) }.Distinct();

    private static string Octal(Rune rune) =>
        string.Concat(Encoding.UTF8.GetBytes(rune.ToString()).Select(b => @"\\{2}" + Convert.ToString(b, 8)));
}
