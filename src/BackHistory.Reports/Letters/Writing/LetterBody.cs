using System.Text.RegularExpressions;
using BackHistory.History.Reminders;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>What may stand between the paragraphs of a letter.</summary>
internal enum BodyMark
{
    Paragraph,
    Lead,
    Back,
    Chart,
    Numbers,
    Answers,
    Groups,
    Link,
    Cautions,
}

/// <param name="Text">Of a paragraph or lead; its lines are kept. Plain text, not yet encoded for anything.</param>
internal sealed record BodyPart(BodyMark Mark, string Text = "");

/// <summary>A rendered template, read into parts from which both HTML and text are written, so that the two cannot differ.</summary>
internal static partial class LetterBody
{
    // Private-use characters; no content holds them (see CleanContent) and no template (see ParsedTemplate).
    public const char Open = '\uE000';
    public const char Close = '\uE001';

    public static IReadOnlyList<BodyPart> Read(string rendered, LetterKind kind)
    {
        var parts = new List<BodyPart>();
        var pieces = rendered.Split(Open, Close);
        var inLead = false;
        for (var i = 0; i < pieces.Length; i++)
        {
            var isMark = i % 2 == 1;
            if (!isMark)
                AddParagraphs(parts, pieces[i], inLead ? BodyMark.Lead : BodyMark.Paragraph);
            else if (pieces[i] is "Lead" or "/Lead")
                inLead = pieces[i] == "Lead";
            else
                parts.Add(new(Enum.Parse<BodyMark>(pieces[i])));
        }
        // Cautions stand where the decision is taken; a template may move them but not lose them.
        if (Cautions.Always(kind) && parts.All(p => p.Mark != BodyMark.Cautions))
            parts.Add(new(BodyMark.Cautions));
        return parts;
    }

    static void AddParagraphs(List<BodyPart> parts, string text, BodyMark mark)
    {
        foreach (var paragraph in BlankLine().Split(text.Replace("\r\n", "\n", StringComparison.Ordinal)))
        {
            var lines = paragraph.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0).ToList();
            if (lines.Count > 0)
                parts.Add(new(mark, string.Join('\n', lines)));
        }
    }

    [GeneratedRegex(@"\n[ \t]*\n", RegexOptions.None, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex BlankLine();
}
