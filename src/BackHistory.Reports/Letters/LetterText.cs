using System.Text;
using System.Text.RegularExpressions;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters;

/// <summary>A letter's words as somebody writes them who knows no template language: what is put in stands in square brackets and is called
/// in the letter's own language. It is kept as a <see cref="LetterTemplate"/>, and says the same.</summary>
/// <param name="Words">Paragraphs, parted by empty lines.</param>
public sealed partial record LetterText(string Subject, string Words)
{
    private const string SubjectStart = "Subject:";

    /// <summary>The longer pieces of code come before those that they hold.</summary>
    private static readonly Piece[] Pieces =
    [
        new("finding", "{% lead %}{{ sentences[0] }}{% endlead %}", Of.Horse),
        new("more", "{% for sentence in sentences offset:1 %}{{ sentence }} {% endfor %}", Of.Horse),
        new("sentences", "{% for sentence in sentences %}{{ sentence }} {% endfor %}", Of.Any),
        new("first", "{{ sentences[0] }}", Of.Horse),
        new("recipient", "{{ recipient }}", Of.Any),
        new("horse", "{{ horse }}", Of.Horse, InSubject: true),
        new("practice", "{{ practice }}", Of.Any),
        new("date", "{{ date }}", Of.List, InSubject: true),
        new("count", "{{ count }}", Of.List, InSubject: true),
        new("back", "{% back %}", Of.Horse),
        new("chart", "{% chart %}", Of.Horse),
        new("numbers", "{% numbers %}", Of.Horse),
        new("answers", "{% answers %}", Of.Horse),
        new("groups", "{% groups %}", Of.List),
        new("link", "{% link %}", Of.Any),
        new("cautions", "{% cautions %}", Of.Any),
        new("large", "{% lead %}", Of.Any),
        new("large-end", "{% endlead %}", Of.Any),
        new("none", "{% if count == 0 %}", Of.List),
        new("one", "{% elsif count == 1 %}", Of.List),
        new("otherwise", "{% else %}", Of.List),
        new("end", "{% endif %}", Of.List),
    ];

    private enum Of
    {
        Any,
        Horse,
        List,
    }

    private sealed record Piece(string Key, string Code, Of About, bool InSubject = false)
    {
        public string Text(ReportLanguage language) => $"[{language[$"letter-insert.{Key}"]}]";
    }

    /// <summary>What a kind of letter can say, in the order in which it is offered.</summary>
    public static IReadOnlyList<LetterInsert> Offered(LetterKind kind, ReportLanguage language)
    {
        var other = LetterKinds.DefinitionOf(kind).IsList ? Of.Horse : Of.List;
        return [.. Pieces.Where(p => p.About != other).Select(p => new LetterInsert(p.Text(language), p.InSubject))];
    }

    /// <summary>The words of a template.</summary>
    /// <returns>Null where it says what only the template language can, or holds square brackets of its own.</returns>
    public static LetterText? From(LetterTemplate template, ReportLanguage language)
    {
        var source = template.Source.ReplaceLineEndings("\n");
        if (source.AsSpan().ContainsAny('[', ']') && Index().Replace(source, "").AsSpan().ContainsAny('[', ']'))
            return null;
        source = Code()
            .Replace(source, m => $"{m.Groups["open"].Value} {Space().Replace(m.Groups["said"].Value, " ")} {m.Groups["close"].Value}");
        foreach (var piece in Pieces)
            source = source.Replace(piece.Code, piece.Text(language), StringComparison.Ordinal);
        var first = source.Split('\n')[0];
        return !first.StartsWith(SubjectStart, StringComparison.OrdinalIgnoreCase) || HoldsCode(source)
            ? null
            : new LetterText(first[SubjectStart.Length..].Trim(), source[first.Length..].Trim('\n', ' '));
    }

    /// <summary>The template that says these words.</summary>
    /// <exception cref="LetterTemplateException">Something stands in brackets that cannot be put in.</exception>
    public LetterTemplate Template(ReportLanguage language)
    {
        var subject = Subject.Trim();
        if (subject.Length == 0)
            throw new LetterTemplateException("A letter needs a subject.", 1);
        return new LetterTemplate(
            Written($"{SubjectStart} {Space().Replace(subject, " ")}\n\n{Words.ReplaceLineEndings("\n").Trim()}\n", language)
        );
    }

    private static string Written(string text, ReportLanguage language)
    {
        if (HoldsCode(text))
            throw new LetterTemplateException("Two braces, or a brace and a per cent sign, cannot be written: choose from the list.", 0);
        var codes = Pieces.ToDictionary(p => p.Text(language), p => p.Code, StringComparer.OrdinalIgnoreCase);
        var (written, line) = (new StringBuilder(text.Length), 1);
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] == '\n')
                line++;
            if (text[i] is not ('[' or ']'))
            {
                written.Append(text[i]);
                continue;
            }

            var end = text[i] == '[' ? text.AsSpan(i).IndexOfAny(']', '\n') : -1;
            var said = end > 0 && text[i + end] == ']' ? Space().Replace(text.Substring(i, end + 1), " ") : text[i].ToString();
            if (!codes.TryGetValue(said, out var code))
                throw new LetterTemplateException($"“{said}” is nothing that can be put in: choose from the list.", line);
            written.Append(code);
            i += end;
        }

        return written.ToString();
    }

    private static bool HoldsCode(string text) =>
        text.Contains("{{", StringComparison.Ordinal)
        || text.Contains("{%", StringComparison.Ordinal)
        || text.Contains("}}", StringComparison.Ordinal)
        || text.Contains("%}", StringComparison.Ordinal);

    [GeneratedRegex(@"sentences\[0\]", RegexOptions.None, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex Index();

    [GeneratedRegex(@"(?<open>\{\{|\{%)\s*(?<said>[^{}%]*?)\s*(?<close>\}\}|%\})", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Code();

    [GeneratedRegex(@"\s+", RegexOptions.None, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex Space();
}
