using System.Text;
using BackHistory.History.Reminders;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>
/// The content with every text on one line and without characters that steer: control characters, marks of ours, and those that turn the
/// direction of reading (a name could make a link read backwards). Addresses must be web or mail addresses.
/// </summary>
internal static class CleanContent
{
    /// <exception cref="LetterContentException">Something is missing, or an address is not one.</exception>
    public static LetterModel Clean(LetterKind kind, LetterModel content)
    {
        var clean = content with
        {
            PracticeName = Text(content.PracticeName),
            PracticeContact = Text(content.PracticeContact),
            RecipientName = Text(content.RecipientName),
            HorseName = Text(content.HorseName),
            Sentences = [.. content.Sentences.Select(Text).Where(s => s.Length > 0)],
            Numbers = [.. content.Numbers.Select(n => new LetterNumber(Text(n.Label), Text(n.Now), Text(n.Before), Text(n.Limit)))],
            Details = [.. content.Details.Select(Text).Where(s => s.Length > 0)],
            Cautions = [.. Cautions.CautionsFor(kind, content.Language).Concat(content.Cautions.Select(Text)).Where(c => c.Length > 0)],
            Answers = content.Answers is { } a ? new(Url(a.BookUrl), Url(a.LaterUrl), Url(a.NotNeededUrl)) : null,
            Link = content.Link is { } link ? new(Text(link.Text), Url(link.Url)) : null,
            Groups = [.. content.Groups.Select(Group)],
            UnsubscribeUrl = content.UnsubscribeUrl.Length == 0 ? "" : Url(content.UnsubscribeUrl),
            Mark = Image(content.Mark),
            Chart = Image(content.Chart),
            Back = Image(content.Back),
        };
        Requirements.Check(kind, clean);
        return clean;
    }

    static LetterGroup Group(LetterGroup group) =>
        new(
            Text(group.Title),
            [
                .. group.Items.Select(i => new LetterItem(Text(i.Title), Text(i.Detail), Text(i.When), Text(i.Trail))
                {
                    Url = i.Url is null ? null : Url(i.Url),
                }),
            ]
        )
        {
            Note = Text(group.Note),
        };

    static LetterImage? Image(LetterImage? image)
    {
        if (image is null)
            return null;
        if (image.ContentId.Length == 0 || image.ContentId.Any(c => !char.IsAsciiLetterOrDigit(c) && c is not ('@' or '.' or '-' or '_')))
            throw new LetterContentException($"“{image.ContentId}” cannot be a picture's content id: letters, digits and @ . - _ only.");
        return image with { AltText = Text(image.AltText) };
    }

    static string Text(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var c in Printable.Clean(text))
        {
            var steers = c is LetterBody.Open or LetterBody.Close or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069');
            if (!steers)
                clean.Append(c);
        }
        return clean.ToString();
    }

    static string Url(string url) =>
        Uri.TryCreate(url, UriKind.Absolute, out var uri) && uri.Scheme is ("https" or "http" or "mailto")
            ? uri.AbsoluteUri
            : throw new LetterContentException($"“{Text(url)}” is no web or mail address.");
}
