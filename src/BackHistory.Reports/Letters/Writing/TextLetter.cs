using System.Text;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>The text part: what the HTML says, in lines of at most 76 characters; an address is never broken.</summary>
internal static class TextLetter
{
    const int Width = 76;

    public static string Write(IReadOnlyList<BodyPart> body, LetterModel content, LetterWords words)
    {
        var blocks = body.Select(part => Block(part, content, words)).Where(b => b.Length > 0).ToList();
        blocks.Add(string.Join('\n', new[] { "-- ", content.PracticeName, content.PracticeContact }.Where(l => l.Length > 0)));
        blocks.Add($"{Wrap(words.WhyYou)}\n{words.Unsubscribe}:\n{content.UnsubscribeUrl}");
        return string.Join("\n\n", blocks) + "\n";
    }

    static string Block(BodyPart part, LetterModel content, LetterWords words) =>
        part.Mark switch
        {
            BodyMark.Paragraph or BodyMark.Lead => string.Join('\n', part.Text.Split('\n').Select(l => Wrap(l))),
            BodyMark.Numbers when content.Numbers.Count + content.Details.Count > 0 => string.Join(
                '\n',
                new[] { $"{words.Details}:" }
                    .Concat(content.Details.Select(d => Wrap(d)))
                    .Concat(content.Numbers.Select(n => Number(n, words)))
            ),
            BodyMark.Answers when content.Answers is { } a =>
                $"{words.Book}:\n{a.BookUrl}\n\n{words.Later}:\n{a.LaterUrl}\n\n{words.NotNeeded}:\n{a.NotNeededUrl}",
            BodyMark.Link when content.Link is { } link => $"{link.Text}:\n{link.Url}",
            BodyMark.Cautions when content.Cautions.Count > 0 => $"{words.TakeCare}:\n"
                + string.Join('\n', content.Cautions.Select(c => Wrap(c, "* ", "  "))),
            BodyMark.Groups => content.Groups.Count == 0 ? words.Nothing : string.Join("\n\n", content.Groups.Select(g => Group(g, words))),
            // The pictures' numbers stand in the letter as text.
            _ => "",
        };

    static string Number(LetterNumber number, LetterWords words) =>
        Wrap(
            $"{number.Label}: {number.Now}"
                + (number.Before.Length > 0 ? $" ({words.Before} {number.Before})" : "")
                + (number.Limit.Length > 0 ? $"; {number.Limit}" : ""),
            "- ",
            "  "
        );

    static string Group(LetterGroup group, LetterWords words)
    {
        var text = new StringBuilder(group.Title).Append('\n').Append('=', Math.Min(group.Title.Length, Width));
        if (group.Note.Length > 0)
            text.Append('\n').Append(Wrap(group.Note));
        if (group.Items.Count == 0)
            text.Append('\n').Append(words.Nothing);
        foreach (var item in group.Items)
        {
            text.Append('\n').Append(Wrap(item.When.Length > 0 ? $"{item.Title} – {item.When}" : item.Title, "* ", "  "));
            foreach (var line in new[] { item.Detail, item.Trail }.Where(l => l.Length > 0))
                text.Append('\n').Append(Wrap(line, "  ", "  "));
            if (item.Url is { } url)
                text.Append("\n  ").Append(url);
        }
        return text.ToString();
    }

    public static string Wrap(string line, string first = "", string rest = "")
    {
        var text = new StringBuilder();
        var current = first;
        foreach (var word in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var fresh = current == first || current == rest;
            if (!fresh && current.Length + 1 + word.Length > Width)
            {
                text.Append(current).Append('\n');
                current = rest + word;
            }
            else
            {
                current += fresh ? word : $" {word}";
            }
        }
        return text.Append(current).ToString();
    }
}
